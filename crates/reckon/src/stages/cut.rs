//! Cut lengths: how long each hose of a run is cut, and what is trimmed off its moulded elbows.

use boat::{Key, KeyPath};
use quantity::{Instrument, Kind, Length, Measured, Origin, Quantity, show};
use reference::hose::{BendUse, HoseKind, RadiusTo, bend_rules, cut_length_tolerance};
use reference::insertion::longest_shop_insertion;

use crate::say;
use crate::stages::types::{Known, Missing, Subject, Value};
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict, Words};

/// All that is read for the pieces of one run.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct CutInput {
    /// The run.
    pub run: Key,
    /// Its mark.
    pub mark: String,
    /// Where its way stands in the file.
    pub place: KeyPath,
    /// Length along the run between the mouths of its two spigots.
    pub length: Known<Length>,
    /// Turns of the run that no elbow takes, in tenths of a degree.
    pub turns: Vec<u32>,
    /// Whether the run is set over somewhere, which no turn tells of.
    pub offset: bool,
    /// Its pieces, in order of flow.
    pub pieces: Vec<CutPiece>,
}

/// One piece of a run.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct CutPiece {
    /// `hot.hose`.
    pub key: Key,
    /// For people: `hose 38 epdm`.
    pub name: String,
    /// What it is.
    pub shape: Shape,
    /// Its own length along the run, where typed.
    pub long: Option<Length>,
    /// How long it is cut, where the owner decided that, and where it is written.
    pub decided: Option<(Length, KeyPath)>,
    /// How far its upstream and its downstream end go over their spigots; nothing for a male piece.
    pub pushed: [Option<Known<Length>>; 2],
}

impl CutPiece {
    /// Whether nothing tells its own length.
    fn is_open(&self) -> bool {
        self.long.is_none() && self.decided.is_none()
    }
}

/// What a piece is, to the knife.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Shape {
    /// Hose off a length.
    Hose {
        /// Its build, where known.
        build: Option<HoseKind>,
        /// Bore and outside, where known.
        bore: Option<Length>,
        /// Outside diameter, where known.
        over: Option<Length>,
        /// Least bend radius by its maker, and whether to the inside of the curve.
        least_radius: Option<(Length, bool)>,
    },
    /// A moulded elbow.
    Elbow {
        /// By how much it turns, in tenths of a degree.
        angle: u32,
        /// Its legs, from the ends to where the centre lines cross.
        legs: Option<[Length; 2]>,
        /// Radius of its bend, to the centre line.
        radius: Option<Length>,
    },
    /// A moulded reducer, or any male piece: it is taken as it is.
    Fitting,
}

/// A hose to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct CutHose {
    /// `hot.hose`.
    pub key: Key,
    /// For people: `hose 38 epdm`.
    pub name: String,
    /// How long it is cut; `Err` where that can't be told before it is tried in place.
    pub cut: Known<Length>,
    /// The most that it can want, where that is known: what is bought.
    pub most: Option<Length>,
    /// Whether it shares what is known of its length with the other hoses of its run.
    pub shared: bool,
}

/// `hose2 of hot (A)`.
fn title(input: &CutInput, piece: &CutPiece) -> String {
    let name = piece.key.rsplit('.').next().unwrap_or(&piece.name);
    format!("{name} of {} ({})", input.run, input.mark)
}

/// What comes out for one run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutOutput {
    /// Its hoses, in order of flow.
    pub hoses: Vec<CutHose>,
    /// One verdict a hose and an elbow.
    pub verdicts: Vec<Verdict>,
}

/// An elbow in numbers, in metres.
struct Bent {
    /// Straight part of each leg.
    straight: [f64; 2],
    /// Length of the bend along its centre line.
    arc: f64,
}

/// An elbow of two legs: what is straight of each once the bend has taken its part, and the bend.
///
/// Source: plane geometry. Formula: s = leg − R tan(θ/2), arc = R θ.
fn bent(angle: f64, legs: [f64; 2], radius: f64) -> Bent {
    let taken = radius * (angle / 2.0).tan();
    Bent {
        straight: legs.map(|leg| leg - taken),
        arc: radius * angle,
    }
}

fn radians(tenths: u32) -> f64 {
    (f64::from(tenths) / 10.0).to_radians()
}

/// How far a hose is pushed on at most: what stands in for an end that is not measured, when hose is
/// bought and none is cut.
fn most_pushed(pushed: &Option<Known<Length>>) -> Length {
    match pushed {
        Some(Ok(pushed)) => pushed.measured.high,
        Some(Err(_)) => longest_shop_insertion().value,
        None => Length::mm(0.0),
    }
}

/// Works out every cut of a run.
pub fn cuts(input: &CutInput) -> CutOutput {
    let mut output = CutOutput::default();
    let hoses = input
        .pieces
        .iter()
        .filter(|piece| matches!(piece.shape, Shape::Hose { .. }));
    let unknown = hoses.filter(|piece| piece.is_open()).count();
    for piece in &input.pieces {
        match &piece.shape {
            Shape::Hose { .. } => {
                let (hose, verdict) = hose(input, piece, unknown);
                output.hoses.push(hose);
                output.verdicts.push(verdict);
            }
            Shape::Elbow { .. } => output.verdicts.push(elbow(input, piece)),
            Shape::Fitting => {}
        }
    }
    adds_up(input, &mut output.verdicts, &mut output.hoses);
    output.verdicts = output.verdicts.into_iter().map(Verdict::spoken).collect();
    output
}

/// Says so where every length of a run is written and they do not add up to its own.
fn adds_up(input: &CutInput, verdicts: &mut [Verdict], hoses: &mut [CutHose]) {
    let Ok(whole) = &input.length else { return };
    // Who decided on a cut wants another length than the tape along the old hose.
    if input.pieces.iter().any(|piece| piece.decided.is_some()) {
        return;
    }
    let lengths: Option<Vec<f64>> = input
        .pieces
        .iter()
        .map(|piece| match (&piece.shape, piece.long) {
            (_, Some(long)) => Some(long.si()),
            (Shape::Hose { .. }, None) => None,
            (_, None) => takes(input, piece).ok(),
        })
        .collect();
    let Some(lengths) = lengths else { return };
    let sum: f64 = lengths.iter().sum();
    // Each piece was measured with the same tape as the run.
    let slack = whole.measured.half_width().si() * (lengths.len() + 1) as f64;
    if (sum - whole.measured.value.si()).abs() <= slack.max(0.001) {
        return;
    }
    for verdict in verdicts {
        verdict.grade = Grade::Unsound;
        verdict.because = Words::of(|system| {
            format!(
                "The pieces take {} and the run is {}: one of these lengths can't be right.",
                say::whole_mm(sum, system),
                say::whole_mm(whole.measured.value.si(), system)
            )
        });
        verdict.remedy = "Measure again, or leave one hose without a length.".into();
    }
    for hose in hoses {
        hose.cut = Err(Missing {
            why: "the lengths of its run do not add up".into(),
            settles: whole.settles.clone(),
        });
    }
}

/// What lies between the mouths of the spigots at the two sides of a piece that is no hose.
pub(crate) fn takes(input: &CutInput, piece: &CutPiece) -> Result<f64, Missing> {
    if let Some((cut, _)) = &piece.decided {
        let mut along = cut.si();
        for pushed in piece.pushed.iter().flatten() {
            along -= pushed.as_ref().map_err(Clone::clone)?.measured.value.si();
        }
        return Ok(along);
    }
    if let Some(long) = piece.long {
        return Ok(long.si());
    }
    let missing = |how: String| {
        Err(Missing {
            why: format!("the length of {} is not written", piece.name)
                .as_str()
                .into(),
            settles: Settles {
                place: input.place.clone(),
                how,
            },
        })
    };
    match &piece.shape {
        Shape::Elbow {
            angle,
            legs: Some(legs),
            radius: Some(radius),
        } => {
            let bent = bent(radians(*angle), legs.map(Quantity::si), radius.si());
            let pushed: f64 = piece
                .pushed
                .iter()
                .flatten()
                .map(|pushed| pushed.as_ref().map(|value| value.measured.value.si()))
                .collect::<Result<Vec<f64>, _>>()
                .map_err(Clone::clone)?
                .iter()
                .sum();
            Ok(bent.straight[0] + bent.arc + bent.straight[1] - pushed)
        }
        Shape::Elbow { .. } => missing(format!(
            "Measure the elbow's legs and its radius and write them after it: `{} legs 150 x 100 radius 57`.",
            piece.name
        )),
        _ => missing(format!(
            "Measure it over all, from mouth to mouth, and write it after the piece: `{} 90 long`.",
            piece.name
        )),
    }
}

/// The free length of a hose of a run, between the mouths of its spigots.
///
/// # Errors
/// What is missing, where it can't be told.
pub(crate) fn free_length(input: &CutInput, piece: &CutPiece) -> Known<Length> {
    let hoses = input.pieces.iter();
    let unknown = hoses
        .filter(|piece| matches!(piece.shape, Shape::Hose { .. }) && piece.is_open())
        .count();
    between(input, piece, unknown)
}

/// The length of a hose along the run, between the mouths of its spigots, and how it was found.
fn between(input: &CutInput, piece: &CutPiece, unknown: usize) -> Known<Length> {
    let settles = Settles {
        place: input.place.clone(),
        how: format!(
            "Measure how much of the run it takes, from mouth to mouth, and write it after the hose: `{} 400 long`.",
            piece.name
        ),
    };
    if let Some((cut, place)) = &piece.decided {
        let mut along = *cut;
        for pushed in piece.pushed.iter().flatten() {
            along = along - pushed.as_ref().map_err(Clone::clone)?.measured.value;
        }
        return Ok(Value {
            measured: Measured::exact(along, Origin::Computed),
            from: "cut as decided".into(),
            place: Some(place.clone()),
            settles,
        });
    }
    if let Some(long) = piece.long {
        return Ok(Value {
            measured: Measured::exact(long, Origin::Read(Instrument::Tape)),
            from: "written".into(),
            place: Some(input.place.clone()),
            settles,
        });
    }
    let whole = input.length.as_ref().map_err(Clone::clone)?;
    if unknown > 1 {
        return Err(Missing {
            why: "several hoses share the run, and where one ends is not written".into(),
            settles,
        });
    }
    let mut rest = 0.0;
    for other in input.pieces.iter().filter(|other| other.key != piece.key) {
        rest += takes(input, other)?;
    }
    let rest = Length::m(rest);
    Ok(Value {
        measured: Measured {
            value: whole.measured.value - rest,
            low: whole.measured.low - rest,
            high: whole.measured.high - rest,
            origin: whole.measured.origin,
        },
        ..whole.clone()
    })
}

/// A bend radius to the centre line, and whose figure it is.
pub(crate) struct Radius {
    pub(crate) metres: f64,
    pub(crate) source: String,
}

/// The least radius of a hose, and the one under which it is refused: its maker's figure for both, or
/// the trade's rules as multiples of the bore. Where a rule does not say to where it measures, it is
/// taken to the centre line, which asks least.
pub(crate) fn radii(shape: &Shape) -> Option<(Radius, Radius)> {
    let Shape::Hose {
        build,
        bore,
        over,
        least_radius,
    } = shape
    else {
        return None;
    };
    if let Some((radius, inside)) = least_radius {
        let to_centre = if *inside { (*over)?.si() / 2.0 } else { 0.0 };
        let maker = || Radius {
            metres: radius.si() + to_centre,
            source: "its maker's least radius, as written".into(),
        };
        return Some((maker(), maker()));
    }
    let bore = (*bore)?;
    let rules = bend_rules((*build)?);
    let by = |used_as: BendUse| {
        let rule = rules.iter().find(|rule| {
            rule.used_as == used_as && rule.bore.is_none_or(|limits| limits.contains(bore))
        })?;
        let to_centre = match rule.to {
            RadiusTo::Inside => (*over)?.si() / 2.0,
            RadiusTo::CentreLine | RadiusTo::Unsaid => 0.0,
        };
        Some(Radius {
            metres: rule.ratio.low.to_f64() * bore.si() + to_centre,
            source: rule.source.cite(),
        })
    };
    let least = by(BendUse::Smallest)?;
    let kinks = by(BendUse::Kinks).unwrap_or(Radius {
        metres: least.metres,
        source: least.source.clone(),
    });
    Some((least, kinks))
}

fn hose(input: &CutInput, piece: &CutPiece, unknown: usize) -> (CutHose, Verdict) {
    let subject = Subject {
        key: piece.key.clone(),
        title: title(input, piece),
        place: input.place.clone(),
    };
    let between = between(input, piece, unknown);
    let ends: Vec<&Known<Length>> = piece.pushed.iter().flatten().collect();
    let missing = between
        .as_ref()
        .err()
        .or_else(|| ends.iter().find_map(|end| end.as_ref().err()));
    // What is bought where the cut can't be told: the whole run, and both ends pushed on as far as
    // one goes.
    let most = match (&between, &input.length) {
        (Ok(between), _) => Some(between.measured.high),
        (Err(_), Ok(whole)) => Some(whole.measured.high),
        _ => None,
    }
    .map(|along| along + most_pushed(&piece.pushed[0]) + most_pushed(&piece.pushed[1]));
    let mut hose = CutHose {
        key: piece.key.clone(),
        name: piece.name.clone(),
        cut: Err(missing.cloned().unwrap_or(Missing {
            why: "not known".into(),
            settles: Settles {
                place: input.place.clone(),
                how: String::new(),
            },
        })),
        most,
        shared: piece.is_open() && unknown > 1,
    };
    if let Some(missing) = missing {
        let mut verdict = subject.waits(Stage::Order, "cut", "Cut length", missing);
        if let Some(most) = most {
            verdict.because = Words::of(|system| {
                format!(
                    "{} It wants {} at most.",
                    verdict.because.in_units(system),
                    show(most, None, system)
                )
            });
            verdict.working.limit =
                "the most is bought; the hose is offered up and cut in place".into();
        }
        return (hose, verdict);
    }
    let (Ok(along), Some(Ok(up)), Some(Ok(down))) = (&between, &piece.pushed[0], &piece.pushed[1])
    else {
        // A hose without a spigot at one end is for the circuit to speak of.
        let because = "One end of the hose goes on nothing.";
        let verdict = subject.verdict(Stage::Order, "cut", Grade::Unmeasured, because.into());
        return (hose, verdict);
    };
    let cut = Value {
        measured: Measured {
            value: along.measured.value + up.measured.value + down.measured.value,
            low: along.measured.low + up.measured.low + down.measured.low,
            high: along.measured.high + up.measured.high + down.measured.high,
            origin: along.measured.origin,
        },
        ..along.clone()
    };
    let half = cut.measured.half_width();
    let (length, room) = (cut.measured.value, along.measured.value);
    let mut verdict = subject.verdict(
        Stage::Order,
        "cut",
        Grade::Sound,
        Words::of(|system| {
            format!(
                "Cut it {} long: {} between the spigots, {} and {} pushed on.",
                say::whole_mm(length.si(), system),
                say::whole_mm(room.si(), system),
                say::whole_mm(up.measured.value.si(), system),
                say::whole_mm(down.measured.value.si(), system)
            )
        }),
    );
    verdict.basis = Basis::Physics;
    verdict.remedy = "Cut it square, with a sharp wet blade in one stroke.".into();
    verdict
        .input("l", "between the mouths of its spigots", along)
        .input("i_1", "pushed on upstream", up)
        .input("i_2", "pushed on downstream", down);
    verdict.step(
        "L = l + i_1 + i_2",
        Words::of(|system| {
            format!(
                "{} + {} + {}",
                say::whole_mm(room.si(), system),
                say::whole_mm(up.measured.value.si(), system),
                say::whole_mm(down.measured.value.si(), system)
            )
        }),
        Words::of(|system| show(length, (half.si() > 0.0).then_some(half), system)),
    );
    let tolerance = cut_length_tolerance(length);
    verdict.source(tolerance.source.cite());
    verdict.working.limit = Words::of(|system| {
        format!(
            "hose shops cut to ± {}",
            show(tolerance.value, None, system)
        )
    });
    bends(input, piece, room, &mut verdict);
    let too_short = room.si() <= 0.0;
    if too_short {
        verdict.grade = Grade::Unsound;
        verdict.because = Words::of(|system| {
            format!(
                "Nothing is left for the hose: the other pieces take all {} of the run.",
                input.length.as_ref().map_or_else(
                    |_| String::new(),
                    |whole| say::whole_mm(whole.measured.value.si(), system)
                )
            )
        });
        verdict.remedy = "Measure the run again, or leave a piece out.".into();
        return (hose, verdict);
    }
    hose.cut = Ok(cut);
    (hose, verdict)
}

/// What the bends that no elbow takes want of a run's hose, at its least radius.
fn bends(input: &CutInput, piece: &CutPiece, room: Length, verdict: &mut Verdict) {
    let turned: f64 = input.turns.iter().copied().map(radians).sum();
    let alone = input
        .pieces
        .iter()
        .filter(|piece| matches!(piece.shape, Shape::Hose { .. }))
        .count()
        == 1;
    if turned == 0.0 && !input.offset {
        return;
    }
    let (Some((least, kinks)), true, false) = (radii(&piece.shape), alone, input.offset) else {
        let why = if !alone {
            "which piece of the run takes them is not written"
        } else if input.offset {
            "the run is set over"
        } else {
            "its outside diameter is not known"
        };
        verdict.because = Words::of(|system| {
            format!(
                "{} Its bends are not judged here, as {why}: see that none is sharper than the hose takes.",
                verdict.because.in_units(system)
            )
        });
        return;
    };
    let [arc, at_kink] = [&least, &kinks].map(|radius| Length::m(turned * radius.metres));
    let radius = Length::m(least.metres);
    verdict.step(
        "bends = θ R, R to the centre line",
        Words::of(|system| {
            format!(
                "{}° × {}",
                turned.to_degrees().round(),
                say::whole_mm(radius.si(), system)
            )
        }),
        Words::of(|system| say::whole_mm(arc.si(), system)),
    );
    verdict.source(least.source).source(kinks.source);
    verdict.margin = Some(Margin {
        value: room.si(),
        deviation: None,
        low: Some(at_kink.si()),
        high: None,
        kind: Kind::Length,
    });
    if arc > room {
        verdict.grade = if at_kink > room {
            Grade::Unsound
        } else {
            Grade::Marginal
        };
        verdict.because = Words::of(|system| {
            format!(
                "Its bends want {} of hose at the least radius of {}; between the spigots are {}.",
                say::whole_mm(arc.si(), system),
                say::whole_mm(radius.si(), system),
                say::whole_mm(room.si(), system)
            )
        });
        verdict.remedy =
            "Put a moulded elbow in for the sharpest bend; forced round, the hose kinks.".into();
    }
}

fn elbow(input: &CutInput, piece: &CutPiece) -> Verdict {
    let subject = Subject {
        key: piece.key.clone(),
        title: title(input, piece),
        place: input.place.clone(),
    };
    let (
        Shape::Elbow {
            angle,
            legs: Some(legs),
            radius: Some(radius),
        },
        true,
    ) = (&piece.shape, piece.long.is_none())
    else {
        let missing = match takes(input, piece) {
            Err(missing) => missing,
            Ok(_) => {
                let because =
                    "Its length along the run is written: its legs are taken as they are.";
                return subject.verdict(Stage::Order, "legs", Grade::Sound, because.into());
            }
        };
        return subject.waits(Stage::Order, "legs", "Legs of the elbow", &missing);
    };
    let bent = bent(radians(*angle), legs.map(Quantity::si), radius.si());
    let mut verdict = subject.verdict(Stage::Order, "legs", Grade::Sound, Words::default());
    verdict.basis = Basis::Physics;
    verdict.step(
        "s = leg − R tan(θ/2)",
        Words::of(|system| {
            let [one, other] = legs.map(|leg| say::whole_mm(leg.si(), system));
            format!(
                "legs {one} and {other}, R {}",
                say::whole_mm(radius.si(), system)
            )
        }),
        Words::of(|system| {
            let [one, other] = bent
                .straight
                .map(|straight| say::whole_mm(straight, system));
            format!("{one} and {other} straight")
        }),
    );
    verdict.working.limit = "the bend starts behind the spigot, not on it".into();
    let mut least = Vec::new();
    for (end, (straight, pushed)) in ["upstream", "downstream"]
        .into_iter()
        .zip(bent.straight.into_iter().zip(&piece.pushed))
    {
        match pushed {
            Some(Ok(pushed)) => {
                let needed = pushed.measured.high.si();
                if straight < needed {
                    verdict.grade = Grade::Unsound;
                    verdict.because = Words::of(|system| {
                        format!(
                            "Only {} of its {end} leg are straight and {} go over the spigot: the bend would start on it.",
                            say::whole_mm(straight.max(0.0), system),
                            say::whole_mm(needed, system)
                        )
                    });
                    verdict.remedy =
                        "Take an elbow with longer legs, and cut them only after a trial.".into();
                    return verdict;
                }
                least.push((end, needed + radius.si() * (radians(*angle) / 2.0).tan()));
            }
            Some(Err(missing)) => {
                return subject.waits(
                    Stage::Order,
                    "legs",
                    "How far its end goes over the spigot",
                    missing,
                );
            }
            None => {}
        }
    }
    verdict.because = Words::of(|system| {
        let trims: Vec<String> = least
            .iter()
            .map(|(end, length)| format!("{end} to {}", say::whole_mm(*length, system)))
            .collect();
        format!(
            "Its legs may be trimmed, {} from end to corner, before the bend comes onto a spigot.",
            say::list(&trims, "and")
        )
    });
    verdict.remedy = "Offer it up before it is cut, and cut it square.".into();
    verdict
}
