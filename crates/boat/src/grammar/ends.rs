//! Names and references: `hot`, `engine.out`, a mark, a moment.

use crate::remark::{Code, Fault, Faulty};

/// Whether a text can be the name of a thing, a run or a spigot.
pub(crate) fn name(text: &str) -> Result<(), Fault> {
    let fits = text
        .chars()
        .all(|c| c.is_alphanumeric() || c == '-' || c == '_')
        && !text.is_empty();
    if fits {
        return Ok(());
    }
    let message = format!("“{text}” is no name: one has letters, digits, “-” and “_” only");
    Err(Fault::new(Code::BadName, 0..text.len(), message))
}

/// A name, or two with a dot between: `gearbox.a`.
pub(crate) fn dotted(text: &str) -> Faulty<(String, Option<String>)> {
    let trimmed = text.trim();
    let (first, second) = match trimmed.split_once('.') {
        Some((first, second)) => (first.trim(), Some(second.trim())),
        None => (trimmed, None),
    };
    if name(first).is_ok() && second.is_none_or(|second| name(second).is_ok()) {
        return Ok((first.to_owned(), second.map(str::to_owned)));
    }
    let message =
        format!("“{trimmed}” names no end: a thing, or a thing and its spigot with a dot between");
    Err(vec![
        Fault::new(Code::BadForm, 0..text.len(), message).expecting("engine.out"),
    ])
}

/// A mark: what one writes on the hose with a felt pen.
pub(crate) fn mark(text: &str) -> Faulty<String> {
    if (1..=3).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_uppercase()) {
        return Ok(text.to_owned());
    }
    let message = format!("“{text}” is no mark: one is a capital letter, or two or three");
    Err(vec![
        Fault::new(Code::BadForm, 0..text.len(), message).expecting("A"),
    ])
}

/// A day, and an hour if it is known: `2025-08-14`, `2025-08-14 13:20`.
pub(crate) fn moment(text: &str) -> Faulty<String> {
    let number = |text: &str, digits: usize| {
        let plain = text.len() == digits && text.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| text.parse::<u32>().ok()).flatten()
    };
    let day = |text: &str| {
        let mut parts = text.splitn(3, '-');
        let year = number(parts.next()?, 4)?;
        let month = number(parts.next()?, 2)?;
        let day = number(parts.next()?, 2)?;
        let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let days = match month {
            2 => 28 + u32::from(leap),
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => 0,
        };
        (1..=days).contains(&day).then_some(())
    };
    let hour = |text: &str| {
        let (hour, minute) = text.split_once(':')?;
        (number(hour, 2)? < 24 && number(minute, 2)? < 60).then_some(())
    };
    let (date, time) = match text.split_once(' ') {
        Some((date, time)) => (date, Some(time)),
        None => (text, None),
    };
    if day(date).is_some() && time.is_none_or(|time| hour(time).is_some()) {
        return Ok(text.to_owned());
    }
    let message = format!("“{text}” is no day and hour");
    Err(vec![
        Fault::new(Code::BadForm, 0..text.len(), message).expecting("2025-08-14 13:20"),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_exist() {
        for fits in ["2025-08-14", "2025-08-14 13:20", "2024-02-29 00:00"] {
            assert!(moment(fits).is_ok(), "{fits}");
        }
        for fails in [
            "",
            "2025-8-14",
            "2025-02-29",
            "2025-08-14 24:00",
            "2025-08-14T13:20",
            "14.8.2025",
            "2025-13-01",
        ] {
            assert!(moment(fails).is_err(), "{fails}");
        }
    }

    #[test]
    fn ends_are_read() {
        assert_eq!(
            dotted("engine.out").unwrap(),
            ("engine".into(), Some("out".into()))
        );
        assert_eq!(dotted(" keel-fwd ").unwrap(), ("keel-fwd".into(), None));
        for fails in ["", ".", "a.", "a.b.c", "a b", "engine,out"] {
            assert!(dotted(fails).is_err(), "{fails}");
        }
    }
}
