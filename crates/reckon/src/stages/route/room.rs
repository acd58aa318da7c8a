//! What a typed room in front of a screw says, and how it stands beside what the tools find among the bodies.

use bay::access::{self, Fits, InFront, Tool, Works};
use quantity::{Length, Quantity};

use super::access::works;
use super::clip_verdict::{self, CAUTION, kind_words, the};
use super::input::ClipFact;
use super::judge::mm;
use crate::say;
use crate::verdict::{Grade, Settles, Verdict, Words, WorkingInput};

/// Which tools fit into the typed room by what closes the clip.
fn fits(clip: &ClipFact, length: f64, works: Works, tools: &[Tool]) -> Vec<Fits> {
    let own: Vec<Tool> = tools
        .iter()
        .filter(|tool| tool.works == works)
        .cloned()
        .collect();
    let across = clip.across;
    access::room_in_front(InFront { length, across }, &own)
}

/// What a typed room in front of the screw says; `None` where none is typed.
pub(super) fn by_room(clip: &ClipFact, tools: &[Tool]) -> Option<Verdict> {
    let room = clip.room?;
    let works = works(clip.kind);
    let fits = fits(clip, room, works, tools);
    let fitting: Vec<&Fits> = fits.iter().filter(|fit| fit.holds()).collect();
    let names = |fitting: &[&Fits]| {
        let names: Vec<String> = fitting.iter().map(|fit| the(&fit.tool)).collect();
        say::list(&names, "or")
    };
    let settled = fitting.iter().any(|fit| fit.is_settled());
    let least = |of: fn(&Fits) -> f64, among: &[&Fits]| {
        let all = among.iter().map(|fit| of(fit));
        all.fold(f64::INFINITY, f64::min)
    };
    let all: Vec<&Fits> = fits.iter().collect();
    let shortest = least(|fit| fit.wants.length, &all);
    let grade = match (fitting.is_empty(), settled) {
        (true, _) => Grade::Unsound,
        (false, true) => Grade::Sound,
        (false, false) => Grade::Marginal,
    };
    let long_enough: Vec<&Fits> = fits.iter().filter(|fit| fit.left >= 0.0).collect();
    let kind = kind_words(clip);
    let because = Words::of(|system| {
        let free = match clip.across {
            Some(across) => format!("{} by {}", mm(room, system), mm(across, system)),
            None => mm(room, system),
        };
        if long_enough.is_empty() {
            format!(
                "{free} are free in front of it; the shortest tool for it wants {}.{kind}",
                mm(shortest, system)
            )
        } else if fitting.is_empty() {
            format!(
                "{free} are free in front of it; {} would be long enough, and wants {} across at least.{kind}",
                names(&long_enough),
                mm(least(|fit| fit.wants.across, &long_enough), system)
            )
        } else if settled {
            format!(
                "{free} are free in front of it: room for {}.{kind}",
                names(&fitting)
            )
        } else {
            format!(
                "{free} are free in front of it: long enough for {}; whether it is wide enough nobody measured.{kind}",
                names(&fitting)
            )
        }
    });
    let mut verdict = clip_verdict::of(clip, grade, because);
    match grade {
        Grade::Unsound => {
            verdict.remedy = other_kind(clip, room, works, tools).map_or_else(
                || "Turn the clip so that its screw points where there is more room, and write how much that is.".into(),
                |other| other.as_str().into(),
            );
            verdict.caution = Some(CAUTION.into());
        }
        Grade::Marginal => {
            let wanted = least(|fit| fit.wants.across, &fitting);
            let wide = Words::of(|system| {
                format!(
                    "Measure how wide the room in front of it is where it is narrowest, and write it: room_across = {{ \"{}\" = … }}; {} is the least.",
                    clip.joint,
                    mm(wanted, system)
                )
            });
            verdict.settles = Some(Settles {
                place: format!("bay.room_across.{}", boat::key_text(&clip.joint)),
                how: wide.metric.clone(),
            });
            verdict.remedy = wide;
        }
        _ => {}
    }
    inputs(&mut verdict, clip, room);
    verdict.step(
        "left = room in front − what the tool wants",
        Words::of(|system| format!("{} − {}", mm(room, system), mm(shortest, system))),
        Words::of(|system| say::mm(room - shortest, system)),
    );
    if let Some(across) = clip.across {
        let wanted = least(|fit| fit.wants.across, &long_enough);
        if wanted.is_finite() {
            verdict.step(
                "left across = width of the room − what the tool wants",
                Words::of(|system| format!("{} − {}", mm(across, system), mm(wanted, system))),
                Words::of(|system| say::mm(across - wanted, system)),
            );
        }
    }
    verdict.working.limit = "over 0 for one tool at least, both ways".into();
    verdict.source(access::SOURCE);
    Some(verdict)
}

fn inputs(verdict: &mut Verdict, clip: &ClipFact, room: f64) {
    let joint = boat::key_text(&clip.joint);
    let across = clip
        .across
        .map(|across| ("w", "width of that room", across, "room_across"));
    let ahead = ("l", "room in front of it", room, "room");
    for (symbol, name, metres, table) in std::iter::once(ahead).chain(across) {
        let Some(length) = Length::from_si(metres) else {
            continue;
        };
        verdict.working.inputs.push(WorkingInput {
            symbol: symbol.into(),
            name: name.into(),
            value: say::number(length, None),
            tolerance: None,
            from: "as written".into(),
            place: Some(format!("bay.{table}.{joint}")),
        });
    }
}

/// That another kind of clip could be worked in the same room.
fn other_kind(clip: &ClipFact, room: f64, works: Works, tools: &[Tool]) -> Option<String> {
    let other = match works {
        Works::Screw => Works::Ear,
        Works::Ear | Works::Band => Works::Screw,
    };
    let fits = fits(clip, room, other, tools);
    let fit = fits.iter().find(|fit| fit.holds())?;
    Some(format!(
        "No tool for {} fits there; take {}, which {} would reach if the room is as wide as it wants.",
        works.words(),
        other.words(),
        the(&fit.tool)
    ))
}

/// Whether a tool fits what was typed of the room in front of a screw; `true` where nothing
/// was.
pub(super) fn allows(clip: &ClipFact, tool: &str, tools: &[Tool]) -> bool {
    clip.room.is_none_or(|room| {
        let fits = fits(clip, room, works(clip.kind), tools);
        fits.iter().any(|fit| fit.tool == tool && fit.holds())
    })
}

/// Both judged: the worse stands and says what the other found.
pub(super) fn worse(typed: Verdict, swept: Verdict) -> Verdict {
    let agree = typed.grade == swept.grade;
    let (mut stands, other, by, of) = if typed.grade > swept.grade {
        (typed, swept, "By what stands in the file", "the tape")
    } else {
        (swept, typed, "By the tape", "what stands in the file")
    };
    let end = if stands.grade == Grade::Unsound {
        format!("The two don't agree; the worse, {of}, counts.")
    } else {
        format!("The less sure, {of}, counts.")
    };
    let because = Words::of(|system| {
        let (own, others) = (
            stands.because.in_units(system),
            other.because.in_units(system),
        );
        if agree {
            format!(
                "{own} {by} it is {} too: {}",
                other.grade.word(),
                lower(others)
            )
        } else {
            format!(
                "{own} {by} it would be {}: {} {end}",
                other.grade.word(),
                lower(others)
            )
        }
    });
    stands.because = because;
    stands.working.inputs.extend(other.working.inputs);
    stands.working.steps.extend(other.working.steps);
    for source in other.working.sources {
        stands.source(source);
    }
    stands
}

/// As it follows a colon.
fn lower(sentence: &str) -> String {
    let mut chars = sentence.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(chars).collect()
    })
}

/// Nothing is known of what stands about a clip.
pub(super) fn unknown(clip: &ClipFact, why: &str) -> Verdict {
    let because = format!(
        "Whether a tool reaches it can't be told: {why}, and no room in front of it is written."
    );
    let mut verdict = clip_verdict::of(clip, Grade::Unmeasured, because.as_str().into());
    verdict.settle_by(&Settles {
        place: format!("bay.room.{}", boat::key_text(&clip.joint)),
        how: format!(
            "Measure from the screw to the nearest thing in front of it, and how wide it is there, and write both: room = {{ \"{joint}\" = … }}, room_across = {{ \"{joint}\" = … }}.",
            joint = clip.joint
        ),
    });
    verdict
}
