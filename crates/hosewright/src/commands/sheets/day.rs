//! The day on the sheets: as given, as the environment has it for builds that can be repeated, or the clock's.

use std::time::{SystemTime, UNIX_EPOCH};

use crate::fault::Fault;

/// The variable that stands for the clock where a run is to be repeatable: seconds since 1970.
const EPOCH: &str = "SOURCE_DATE_EPOCH";
/// Seconds of a day.
const DAY: u64 = 86_400;

/// The day in the order year, month, day.
pub(super) fn of(given: Option<&str>) -> Result<String, Fault> {
    if let Some(given) = given {
        return read(given);
    }
    if let Some(told) = std::env::var_os(EPOCH) {
        let told = told.to_string_lossy().into_owned();
        let seconds: u64 = told.trim().parse().map_err(|_| Fault::Flag {
            flag: EPOCH.into(),
            found: told.clone(),
            why: "the seconds since 1970 are due, as a whole number".into(),
        })?;
        return Ok(written(seconds / DAY));
    }
    let now = SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .map_or(0, |since| since.as_secs());
    Ok(written(now / DAY))
}

/// Reads a day, and refuses one that no calendar has.
fn read(given: &str) -> Result<String, Fault> {
    let wrong = || Fault::Flag {
        flag: "--date".into(),
        found: given.into(),
        why: "a day is written 2027-03-14: year, month, day".into(),
    };
    let parts: Vec<&str> = given.trim().split('-').collect();
    let [year, month, day] = parts.as_slice() else {
        return Err(wrong());
    };
    let number = |text: &str, digits: usize| {
        let plain = text.len() == digits && text.bytes().all(|byte| byte.is_ascii_digit());
        plain.then(|| text.parse::<u64>().ok()).flatten()
    };
    let (Some(year), Some(month), Some(day)) = (number(year, 4), number(month, 2), number(day, 2))
    else {
        return Err(wrong());
    };
    if year < 1970 || !(1..=12).contains(&month) || day < 1 || day > length(year, month) {
        return Err(wrong());
    }
    Ok(given.trim().to_owned())
}

fn is_leap(year: u64) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

/// Days of a month.
fn length(year: u64, month: u64) -> u64 {
    match month {
        2 if is_leap(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// The day so many days after the first of January 1970.
fn written(mut days: u64) -> String {
    // Four centuries always have the same number of days; what lies beyond them is no clock's business.
    let centuries = days / 146_097;
    days %= 146_097;
    let mut year = 1970 + centuries * 400;
    loop {
        let own = if is_leap(year) { 366 } else { 365 };
        if days < own {
            break;
        }
        days -= own;
        year += 1;
    }
    let mut month = 1;
    while days >= length(year, month) {
        days -= length(year, month);
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", days + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_counted_as_the_calendar_has_them() {
        for (days, day) in [
            (0, "1970-01-01"),
            (58, "1970-02-28"),
            (59, "1970-03-01"),
            (10_957, "2000-01-01"),
            (11_016, "2000-02-29"),
            (20_879, "2027-03-02"),
            (146_097, "2370-01-01"),
        ] {
            assert_eq!(written(days), day);
        }
    }

    #[test]
    fn a_day_that_no_calendar_has_is_refused() {
        assert_eq!(of(Some("2027-03-14")).unwrap(), "2027-03-14");
        assert_eq!(of(Some("2028-02-29")).unwrap(), "2028-02-29");
        for wrong in [
            "2027-02-29",
            "2027-13-01",
            "14.3.2027",
            "2027-3-14",
            "",
            "2027-03-14-1",
            "1969-12-31",
            "2027-03-+1",
        ] {
            assert!(of(Some(wrong)).is_err(), "{wrong}");
        }
    }
}
