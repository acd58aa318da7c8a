//! What may have gone wrong with a tape, guessed from how far it is off.

/// The tape was held at its mark for 100 instead of at its hook. Common practice, no source.
const MARK: f64 = 100.0;
/// What a tape's own case usually measures, which one forgets to add. Common practice, no source.
const CASE: std::ops::RangeInclusive<f64> = 55.0..=90.0;
/// From here on a tape hangs or goes round a corner unless somebody holds it. Common practice, no source.
const SAGS_FROM: f64 = 1500.0;

/// A plain guess, as a question; all in millimetres. `off` is read less what is due, `give` how
/// far that may itself be off.
pub(super) fn cause(read: f64, off: f64, give: f64) -> Option<String> {
    let near = |due: f64| (off.abs() - due).abs() <= give;
    let due = read - off;
    // A wide guess would fit everything.
    if give > 15.0 {
        return None;
    }
    if near(MARK) && off > 0.0 {
        return Some("Hook at the 100 mark?".into());
    }
    if let Some(meant) = swapped(read).into_iter().find(|x| (x - due).abs() <= give) {
        return Some(format!("Figures swapped, {meant:.0} for {read:.0}?"));
    }
    if near(MARK) || near(2.0 * MARK) || near(3.0 * MARK) && give < 4.0 {
        return Some("Misread by a whole hundred?".into());
    }
    if near(304.8) {
        return Some("Misread by a whole foot?".into());
    }
    if near(25.4) || near(50.8) {
        return Some("Misread by a whole inch?".into());
    }
    if CASE.contains(&off.abs()) && off < 0.0 {
        return Some("The tape's case not added?".into());
    }
    if [10.0, 20.0, 30.0, 40.0, 50.0].iter().any(|ten| near(*ten)) && give < 4.0 {
        return Some("Misread by tens?".into());
    }
    if off > 0.0 && read >= SAGS_FROM {
        return Some("Did it sag, or go round a corner?".into());
    }
    if off > 0.0 {
        return Some("Was it straight?".into());
    }
    None
}

/// The same figures with two neighbours swapped.
fn swapped(read: f64) -> Vec<f64> {
    let digits: Vec<char> = format!("{:.0}", read.abs()).chars().collect();
    (1..digits.len())
        .filter(|&i| digits[i - 1] != digits[i])
        .filter_map(|i| {
            let mut other = digits.clone();
            other.swap(i - 1, i);
            other.into_iter().collect::<String>().parse().ok()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_slips_are_guessed() {
        let says = |read, off| cause(read, off, 3.5).unwrap_or_default();
        assert!(says(912.0, 98.0).contains("hook") || says(912.0, 98.0).contains("Hook"));
        assert_eq!(says(812.0, -98.0), "Misread by a whole hundred?");
        assert_eq!(says(821.0, 8.0), "Figures swapped, 812 for 821?");
        assert_eq!(says(1240.0, 305.5), "Misread by a whole foot?");
        assert_eq!(says(777.0, -26.0), "Misread by a whole inch?");
        assert_eq!(says(777.0, -71.0), "The tape's case not added?");
        assert_eq!(says(1777.0, 137.0), "Did it sag, or go round a corner?");
        assert_eq!(says(777.0, -137.0), "");
        assert_eq!(cause(912.0, 98.0, 40.0), None);
    }
}
