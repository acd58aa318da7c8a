//! A defect of the program becomes one sentence and status 3, not a wall of text.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex};

use crate::fault::Exit;
use crate::run::Outcome;

/// Runs `work`; if it panics, says where in one line.
pub fn guarded(work: impl FnOnce() -> Outcome) -> Outcome {
    let told = Arc::new(Mutex::new(String::new()));
    let teller = Arc::clone(&told);
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        let place = panic
            .location()
            .map_or_else(String::new, |at| format!(" at {}:{}", at.file(), at.line()));
        let what = panic
            .payload_as_str()
            .unwrap_or("no reason given")
            .lines()
            .next()
            .unwrap_or_default()
            .to_owned();
        if let Ok(mut told) = teller.lock() {
            *told = format!("{what}{place}");
        }
    }));
    // OK because nothing that the work touched is used afterwards.
    let done = catch_unwind(AssertUnwindSafe(work));
    std::panic::set_hook(before);
    done.unwrap_or_else(|_| {
        let told = told.lock().map_or_else(|poisoned| poisoned.into_inner().clone(), |told| told.clone());
        Outcome::refused(
            format!(
                "hosewright {} failed by a defect of its own: {told}. Nothing was written. Send this line and the boat file to whoever you have the program from.\n",
                crate::api::VERSION
            ),
            Exit::Failed,
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_defect_is_one_line_and_status_3() {
        let outcome = guarded(|| panic!("the sum is {}\nand more", 1));
        assert_eq!(outcome.exit, Exit::Failed);
        assert_eq!(outcome.err.lines().count(), 1, "{}", outcome.err);
        assert!(
            outcome
                .err
                .contains("failed by a defect of its own: the sum is 1 at "),
            "{}",
            outcome.err
        );
        assert_eq!(outcome.out, "");
        let fine = Outcome::said("x".into(), Exit::Sound);
        assert_eq!(guarded(|| fine.clone()), fine);
    }
}
