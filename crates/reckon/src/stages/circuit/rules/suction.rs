//! Suction side and main loop: hose that stands the suction, reducers, and valves that throttle.

use boat::{
    ChainKind, HoseBuild, HullStuff, Metal, Piece, PieceKind, Size, Stuff, ThingKind, Told,
    ValveForm,
};
use quantity::{Length, Quantity, System};

use super::{DRAWN, HOT, PRACTICE, SEA, missing, say_assumed, size, subject, verdict, waits};
use crate::draft::{edit, quoted};
use crate::say;
use crate::stages::circuit::plan::{Plan, Site};
use crate::verdict::{Basis, Grade, Verdict, Words};

/// A port is reduced where it is narrower than this share of the narrowest hose of the main loop: it then
/// has less than three quarters of the hose's area. Common practice, no source.
const PORT_SHARE: f64 = 0.85;

/// Judges the family.
pub fn judge(plan: &Plan, out: &mut Vec<Verdict>) {
    let before = out.len();
    let mut runs: Vec<usize> = Vec::new();
    for run in 0..plan.facts.runs.len() {
        let both = plan.nodes.iter().enumerate().any(|(node, own)| {
            own.site == Site::Run(run) && plan.suction[node] && plan.on_main[node]
        });
        if both {
            runs.push(run);
        }
    }
    for run in &runs {
        hose(plan, *run, out);
        reducers(plan, *run, out);
    }
    for said in &mut out[before..] {
        say_assumed(plan, said);
    }
    if out.len() == before && !runs.is_empty() {
        let names: Vec<String> = runs
            .iter()
            .map(|run| plan.facts.runs[*run].run.key.clone())
            .collect();
        // What has no hose, a rigid pipe for one, needs no wire.
        let hosed = runs.iter().filter(|run| has_hose(plan, **run)).count();
        let of_hose = if hosed == 0 {
            "0 hoses".to_owned()
        } else {
            format!("{} of wired hose", say::counted(hosed as u32, "run"))
        };
        let because = format!(
            "The suction side, from the last cooler to the pump, is {}: {of_hose} and no reducer.",
            say::list(&names, "and")
        );
        let whole = subject("suction", "suction side".into(), run_place(plan, runs[0]));
        let mut said = verdict(&whole, "hose", Grade::Sound, because.as_str().into(), "");
        said.working.limit =
            "hose with a wire helix, and no reducer, from the last cooler to the pump".into();
        said.source(DRAWN);
        said.source(PRACTICE);
        say_assumed(plan, &mut said);
        out.push(said);
    }
    valves(plan, out);
    strainer(plan, out);
}

/// Rust and scale of a steel cooler come to the engine where nothing catches them.
fn strainer(plan: &Plan, out: &mut Vec<Verdict>) {
    let things = &plan.facts.things;
    let on_main = |i: usize| plan.any(Site::Thing(i), &plan.on_main);
    let strainers = (0..things.len()).any(|i| things[i].is(ThingKind::Strainer) && on_main(i));
    if strainers {
        return;
    }
    for (_, own) in things.iter().enumerate().filter(|(i, _)| on_main(*i)) {
        let steel = |metal: &Metal| matches!(metal, Metal::Steel | Metal::GalvanisedSteel);
        let pipes = own.thing.detail.pipes.as_ref();
        let of_steel = match own.kind() {
            Some(ThingKind::KeelPipes) => {
                pipes.is_some_and(|pipes| pipes.metal.given().is_some_and(steel))
            }
            Some(ThingKind::SkinTank) => plan.facts.hull.given() == Some(&HullStuff::Steel),
            _ => false,
        };
        if !of_steel {
            continue;
        }
        let whole = subject(own.key(), own.key().to_owned(), own.place.clone());
        let because = format!(
            "No strainer stands between {}, which is of steel, and the pump: rust and scale that come loose in the work end up in the engine.",
            own.key()
        );
        let mut said = verdict(
            &whole,
            "strainer",
            Grade::Marginal,
            because.as_str().into(),
            "Put a strainer or a settling pot at the outlet of the cooler, and clean it after the first runs.",
        );
        said.caution = Some(HOT.into());
        said.working.limit = "a strainer at the outlet of a steel cooler".into();
        said.source(PRACTICE);
        out.push(said);
    }
}

fn run_place(plan: &Plan, run: usize) -> String {
    format!("{}.way", plan.facts.runs[run].place)
}

/// Whether this piece lies on the suction side.
fn on_suction(plan: &Plan, run: usize, piece: &Piece) -> bool {
    plan.find(Site::Run(run), &piece.name)
        .is_some_and(|node| plan.suction[node] && plan.on_main[node])
}

/// Whether a run has hose on the suction side.
fn has_hose(plan: &Plan, run: usize) -> bool {
    let pieces = plan.facts.runs[run].run.way.given();
    pieces.is_some_and(|pieces| {
        pieces.iter().any(|piece| {
            matches!(piece.kind, PieceKind::Hose { .. }) && on_suction(plan, run, piece)
        })
    })
}

/// Hose on the suction side without a wire to hold it open.
fn hose(plan: &Plan, run: usize, out: &mut Vec<Verdict>) {
    let own = &plan.facts.runs[run];
    let place = run_place(plan, run);
    let whole = subject(
        &own.run.key,
        format!("{}, suction side", own.run.key),
        place.clone(),
    );
    let pieces = match &own.run.way {
        Told::Given(pieces) => pieces,
        other => {
            let why = match other {
                Told::Choose => "left to the tool, and what it takes need not have a wire",
                _ => "not written",
            };
            let missing = missing(
                why,
                place,
                "Write the way of the run with the build of its hose: `way = \"hose 38 wired\"`.",
            );
            out.push(waits(&whole, "hose", "Its way", &missing));
            return;
        }
    };
    let mut bare: Vec<(Size, HoseBuild)> = Vec::new();
    let mut mended = pieces.clone();
    for (i, piece) in pieces.iter().enumerate() {
        let PieceKind::Hose { size, build } = &piece.kind else {
            continue;
        };
        if !on_suction(plan, run, piece) || *build == Some(HoseBuild::Wired) {
            continue;
        }
        let Some(build) = build else {
            let missing = missing(
                "not written",
                place,
                "Look what is printed on the hose, or feel for a wire, and write its build: `hose 38 epdm`, `hose 38 wired`.",
            );
            out.push(waits(&whole, "hose", "Build of the hose", &missing));
            return;
        };
        bare.push((*size, *build));
        mended[i].kind = PieceKind::Hose {
            size: *size,
            build: Some(HoseBuild::Wired),
        };
    }
    if bare.is_empty() {
        return;
    }
    let plain = bare
        .iter()
        .any(|(_, build)| matches!(build, HoseBuild::PlainRubber | HoseBuild::PlainSilicone));
    let builds: Vec<String> = {
        let mut words: Vec<String> = Vec::new();
        for (_, build) in &bare {
            let word = match build {
                HoseBuild::Epdm => "EPDM".to_owned(),
                build => build.word().to_owned(),
            };
            if !words.contains(&word) {
                words.push(word);
            }
        }
        words
    };
    let length = own.run.length.given().map(|length| length.value);
    let mut bores: Vec<Length> = Vec::new();
    for bore in bare.iter().filter_map(|(size, _)| bore_of(*size)) {
        if !bores.contains(&bore) {
            bores.push(bore);
        }
    }
    let because = Words::of(|system| {
        let long = length.map_or(String::new(), |length| {
            format!(", in a run of {}", super::size(length, system))
        });
        let sizes: Vec<String> = bores
            .iter()
            .map(|bore| super::size(*bore, system))
            .collect();
        let wide = if sizes.is_empty() {
            String::new()
        } else {
            format!(" {} wide", say::list(&sizes, "and"))
        };
        format!(
            "Hose{wide}, {} without a wire{long}: on the suction side it can be sucked flat when it is hot and she is driven hard.",
            say::list(&builds, "and")
        )
    });
    let grade = if plain {
        Grade::Unsound
    } else {
        Grade::Marginal
    };
    let mut said = verdict(
        &whole,
        "hose",
        grade,
        because,
        "Take hose with a wire helix between the last cooler and the pump, and watch it at full revolutions until then.",
    );
    said.caution = Some(HOT.into());
    said.working.limit = "hose with a wire helix from the last cooler to the pump".into();
    said.source(PRACTICE);
    said.source(DRAWN);
    said.edits.push(edit(
        place,
        quoted(&boat::way_text(pieces)),
        quoted(&boat::way_text(&mended)),
        "take wired hose".into(),
    ));
    out.push(said);
}

fn bore_of(size: Size) -> Option<Length> {
    match size {
        Size::Named(size) => Some(size.as_length()),
        Size::Choose => None,
    }
}

/// Reducers on the suction side that narrow the way.
fn reducers(plan: &Plan, run: usize, out: &mut Vec<Verdict>) {
    let own = &plan.facts.runs[run];
    let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
    for piece in pieces {
        let PieceKind::Reducer { from, to, .. } = &piece.kind else {
            continue;
        };
        let (Some(from), Some(to)) = (bore_of(*from), bore_of(*to)) else {
            continue;
        };
        if !on_suction(plan, run, piece) || to >= from {
            continue;
        }
        let share = (to.si() / from.si()).powi(2);
        let whole = subject(
            &format!("{}.{}", own.run.key, piece.name),
            format!("{} in {}, suction side", piece.name, own.run.key),
            run_place(plan, run),
        );
        let because = Words::of(|system| {
            format!(
                "The suction side narrows from {} to {}, to {} of its area, before the pump.",
                size(from, system),
                size(to, system),
                say::short_percent((share * 100.0).round() / 100.0)
            )
        });
        let mut said = verdict(
            &whole,
            "reducer",
            Grade::Marginal,
            because,
            "Keep the suction side as wide as its widest part, or put the reducer where the pump delivers.",
        );
        said.step(
            "(d_2 ÷ d_1)²",
            Words::of(|system| format!("({} ÷ {})²", size(to, system), size(from, system))),
            say::short_percent((share * 100.0).round() / 100.0)
                .as_str()
                .into(),
        );
        said.working.limit = "no narrowing between the last cooler and the pump".into();
        said.source(PRACTICE);
        said.source(DRAWN);
        out.push(said);
    }
}

/// Valves of the main loop that leave less than their hose, or that only a gate shuts.
fn valves(plan: &Plan, out: &mut Vec<Verdict>) {
    let hoses = plan.facts.runs.iter().enumerate().flat_map(|(i, own)| {
        let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
        pieces.iter().filter_map(move |piece| {
            let on = plan
                .find(Site::Run(i), &piece.name)
                .is_some_and(|node| plan.on_main[node]);
            match piece.kind {
                PieceKind::Hose { size, .. } if on => bore_of(size),
                _ => None,
            }
        })
    });
    let narrowest = hoses.min();
    for (i, own) in plan.facts.things.iter().enumerate() {
        if !own.is(ThingKind::HullFitting) || !plan.any(Site::Thing(i), &plan.on_main) {
            continue;
        }
        for (at, part) in own.thing.chain.iter().enumerate() {
            let whole = subject(
                &format!("{}.{}", own.key(), part.name),
                format!("{} of {}", part.name, own.key()),
                format!("{}.chain[{at}]", own.place),
            );
            let bore = part.bore;
            let reduced = bore
                .zip(narrowest)
                .filter(|(bore, hose)| bore.si() < PORT_SHARE * hose.si());
            if part.kind == ChainKind::GateValve {
                let because = gate_words(bore, &format!(" of {}", own.key()));
                out.push(throttles(&whole, "gate", because));
            } else if let (true, Some((bore, hose))) = (part.kind.is_valve(), reduced) {
                out.push(throttles(&whole, "port", reduced_words(bore, hose)));
            }
        }
    }
    for (i, own) in plan.facts.runs.iter().enumerate() {
        let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
        for (at, piece) in pieces.iter().enumerate() {
            let PieceKind::Valve {
                form,
                size,
                full_bore,
                stuff,
                bore,
                ..
            } = &piece.kind
            else {
                continue;
            };
            let reduced = bore.zip(narrowest).map(|(bore, hose)| {
                let less = bore.si() < PORT_SHARE * hose.si();
                less.then_some((bore, hose))
            });
            let wide = *full_bore || matches!(reduced, Some(None));
            // A check valve throttles by its disc, whatever its bore: the flow tells how much.
            if *form == ValveForm::Check || wide && *form != ValveForm::Gate {
                continue;
            }
            let on = plan
                .find(Site::Run(i), &piece.name)
                .is_some_and(|node| plan.on_main[node]);
            if !on {
                continue;
            }
            let whole = subject(
                &format!("{}.{}", own.run.key, piece.name),
                format!("{} in {}", piece.name, own.run.key),
                run_place(plan, i),
            );
            if *form == ValveForm::Gate {
                let mut said = throttles(&whole, "gate", gate_words(bore_of(*size), ""));
                said.caution = Some(HOT.into());
                out.push(said);
                continue;
            }
            let because = match reduced.flatten() {
                Some((bore, hose)) => reduced_words(bore, hose),
                None => Words::of(|system| {
                    let wide = bore_of(*size).map_or(String::new(), |bore| {
                        format!(" of {}", super::size(bore, system))
                    });
                    format!(
                        "1 valve{wide} stands in the main loop and is not written as full bore: a reduced port throttles the whole flow."
                    )
                }),
            };
            let mut said = throttles(&whole, "port", because);
            said.caution = Some(HOT.into());
            let mut mended = pieces.to_vec();
            // Bore and Kv were those of the old one.
            mended[at].kind = PieceKind::Valve {
                form: *form,
                size: *size,
                full_bore: true,
                stuff: match stuff {
                    Stuff::Metal(metal) => Stuff::Metal(*metal),
                    other => *other,
                },
                bore: None,
                kv: None,
            };
            said.edits.push(edit(
                run_place(plan, i),
                quoted(&boat::way_text(pieces)),
                quoted(&boat::way_text(&mended)),
                "take a valve of full bore".into(),
            ));
            out.push(said);
        }
    }
}

/// Why a gate valve is none for the main loop; `of` says of what, with a space before it.
fn gate_words(bore: Option<Length>, of: &str) -> Words {
    Words::of(|system| {
        let wide = bore.map_or(String::new(), |bore| format!(" of {}", size(bore, system)));
        format!(
            "1 gate valve{wide} stands in the main loop{of}: nobody sees whether it is open, and its gate can drop or stick."
        )
    })
}

fn reduced_words(bore: Length, hose: Length) -> Words {
    let share = ((bore.si() / hose.si()).powi(2) * 100.0).round() / 100.0;
    Words::of(|system: System| {
        format!(
            "Its port is {}, the narrowest hose of the main loop {}: {} of the area is left.",
            size(bore, system),
            size(hose, system),
            say::short_percent(share)
        )
    })
}

fn throttles(whole: &crate::stages::types::Subject, rule: &str, because: Words) -> Verdict {
    let mut said = verdict(
        whole,
        rule,
        Grade::Marginal,
        because,
        "Have a full-bore ball or cone valve put in when the work is due, ashore where it is at the hull.",
    );
    said.caution = Some(SEA.into());
    said.basis = Basis::Practice;
    said.working.limit = format!(
        "a ball or cone valve with a port of at least {} of the narrowest hose",
        say::short_percent(PORT_SHARE)
    )
    .as_str()
    .into();
    said.source(PRACTICE);
    said
}
