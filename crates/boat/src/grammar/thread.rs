//! Threads by name: `G1-1/4`, `R 1/2`, `3/4 NPT`, `M22x1.5`.

use quantity::NominalSize;

use crate::model::{Sex, Thread, ThreadStandard};
use crate::remark::{Code, Fault, Faulty};
use crate::scan::Scan;

const EXAMPLES: &str = "G1-1/4, R1/2, Rc1/2, Rp1/2, 1/2 NPT, 1/2 NPSM or M22x1.5";

/// Longest names first, so that `Rc` is not read as `R`.
const PIPE: [(&str, ThreadStandard); 6] = [
    ("NPSM", ThreadStandard::Npsm),
    ("NPT", ThreadStandard::Npt),
    ("Rc", ThreadStandard::Rc),
    ("Rp", ThreadStandard::Rp),
    ("R", ThreadStandard::R),
    ("G", ThreadStandard::G),
];

/// Reads a thread, with its sex where that was typed.
pub(crate) fn thread(text: &str) -> Faulty<(Thread, Option<Sex>)> {
    let mut scan = Scan::new(text, 0..text.len());
    let read = |scan: &mut Scan| {
        let thread = thread_at(scan)?;
        let sex = if scan.is_done() {
            None
        } else {
            Some(scan.due_word::<Sex>()?)
        };
        if scan.is_done() {
            Ok((thread, sex))
        } else {
            Err(scan.left_over("the thread"))
        }
    };
    read(&mut scan).map_err(|fault| vec![fault])
}

fn after_name<'t>(rest: &'t str, name: &str) -> Option<&'t str> {
    let head = rest.get(..name.len())?;
    let tail = rest[name.len()..].trim_start();
    (head.eq_ignore_ascii_case(name)
        && tail.starts_with(|c: char| c.is_ascii_digit() || "¼½¾⅛⅜⅝⅞".contains(c)))
    .then_some(tail)
}

/// A thread with which the rest begins.
pub(crate) fn thread_at(scan: &mut Scan) -> Result<Thread, Fault> {
    scan.skip_space();
    let begin = scan.at();
    let rest = scan.rest();
    for (name, standard) in PIPE {
        if let Some(tail) = after_name(rest, name) {
            scan.eat(&rest[..rest.len() - tail.len()]);
            return pipe(scan, standard);
        }
    }
    if let Some(tail) = after_name(rest, "M") {
        scan.eat(&rest[..rest.len() - tail.len()]);
        return metric(scan, begin);
    }
    if rest.starts_with(|c: char| c.is_ascii_digit()) {
        let size = scan.size("a thread")?;
        for (name, standard) in PIPE.into_iter().take(2) {
            if scan.eat_word(&[name]) {
                return inch(size, begin..scan.at(), scan).map(|size| Thread {
                    standard,
                    size,
                    pitch_micrometres: None,
                });
            }
        }
        let read = scan.read(begin..scan.at());
        let message = format!("“{read}” names no family of thread");
        return Err(Fault::new(Code::BadForm, begin..scan.at(), message).expecting(EXAMPLES));
    }
    let bit = scan.next_bit();
    let read = scan.read(bit.clone());
    if read.is_empty() {
        return Err(scan.ends("a thread").expecting(EXAMPLES));
    }
    Err(Fault::new(Code::BadForm, bit, format!("“{read}” is no thread")).expecting(EXAMPLES))
}

fn pipe(scan: &mut Scan, standard: ThreadStandard) -> Result<Thread, Fault> {
    scan.skip_space();
    let begin = scan.at();
    let size = scan.size("a thread")?;
    let size = inch(size, begin..scan.at(), scan)?;
    Ok(Thread {
        standard,
        size,
        pitch_micrometres: None,
    })
}

/// Pipe threads are named in inches: a whole number is one of them too.
fn inch(
    size: NominalSize,
    span: std::ops::Range<usize>,
    scan: &Scan,
) -> Result<NominalSize, Fault> {
    match size {
        NominalSize::Inch { .. } => Ok(size),
        NominalSize::Metric { micrometres } if micrometres % 1000 == 0 && micrometres <= 6000 => {
            Ok(NominalSize::sixty_fourths(micrometres / 1000 * 64))
        }
        NominalSize::Metric { .. } => {
            let message = format!(
                "{} is no pipe thread: those are named in inches, up to 6",
                scan.read(span.clone())
            );
            Err(Fault::new(Code::BadForm, span, message).expecting(EXAMPLES))
        }
    }
}

fn metric(scan: &mut Scan, begin: usize) -> Result<Thread, Fault> {
    let size = scan.size("a metric thread")?;
    if matches!(size, NominalSize::Inch { .. }) {
        let message = format!("“{}” is no metric thread", scan.read(begin..scan.at()));
        return Err(Fault::new(Code::BadForm, begin..scan.at(), message).expecting("M22x1.5"));
    }
    let mut pitch_micrometres = None;
    if scan.eat("x") || scan.eat("X") || scan.eat("×") {
        scan.skip_space();
        let at = scan.at();
        // A size and no length is read: the M of a male thread after it is no metre.
        let pitch = scan.size("a pitch")?;
        pitch_micrometres = match pitch {
            NominalSize::Metric { micrometres } if (100..=10_000).contains(&micrometres) => {
                Some(micrometres)
            }
            _ => {
                let read = scan.read(at..scan.at());
                let message = format!("{read} is no pitch of a thread: one is 0.1 to 10 mm");
                return Err(Fault::new(Code::BadQuantity, at..scan.at(), message));
            }
        };
    }
    Ok(Thread {
        standard: ThreadStandard::Metric,
        size,
        pitch_micrometres,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(
        text: &str,
        standard: ThreadStandard,
        size: NominalSize,
        pitch: Option<u32>,
        sex: Option<Sex>,
    ) {
        let read = thread(text).unwrap();
        assert_eq!(
            read,
            (
                Thread {
                    standard,
                    size,
                    pitch_micrometres: pitch
                },
                sex
            ),
            "{text}"
        );
    }

    #[test]
    fn threads_are_read() {
        let inch = NominalSize::sixty_fourths;
        check("G1-1/4", ThreadStandard::G, inch(80), None, None);
        check(
            "G 1 1/4 F",
            ThreadStandard::G,
            inch(80),
            None,
            Some(Sex::Female),
        );
        check("g1", ThreadStandard::G, inch(64), None, None);
        check(
            "Rc 3/8 female",
            ThreadStandard::Rc,
            inch(24),
            None,
            Some(Sex::Female),
        );
        check("R1/2 M", ThreadStandard::R, inch(32), None, Some(Sex::Male));
        check("3/4 NPT", ThreadStandard::Npt, inch(48), None, None);
        check("NPSM 1/2", ThreadStandard::Npsm, inch(32), None, None);
        check(
            "M22x1.5",
            ThreadStandard::Metric,
            NominalSize::mm(22),
            Some(1500),
            None,
        );
        check(
            "M33x2 M",
            ThreadStandard::Metric,
            NominalSize::mm(33),
            Some(2000),
            Some(Sex::Male),
        );
        check(
            "M10 M",
            ThreadStandard::Metric,
            NominalSize::mm(10),
            None,
            Some(Sex::Male),
        );
    }

    #[test]
    fn what_is_no_thread_says_so() {
        let said = |text: &str| thread(text).unwrap_err()[0].message.clone();
        assert_eq!(said("1/2"), "“1/2” names no family of thread");
        assert_eq!(said("BSP 1/2"), "“BSP” is no thread");
        assert_eq!(
            said("G42"),
            "42 is no pipe thread: those are named in inches, up to 6"
        );
        assert_eq!(
            said("M22x40"),
            "40 is no pitch of a thread: one is 0.1 to 10 mm"
        );
        assert_eq!(said("G1/2 N"), "“N” is no sex");
        assert_eq!(said(""), "a thread is due, but nothing stands here");
    }
}
