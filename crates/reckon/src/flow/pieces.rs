//! The pieces of a run as parts of a branch: hoses, bends, fittings, valves.

use std::f64::consts::PI;

use boat::{
    Arranged, Bend, ChainKind, ChainPart, HoseBuild, Metal, Piece, PieceKind, Run, Size, Stuff,
    Told, ValveForm,
};
use quantity::{Angle, Length, Quantity};
use reference::fitting::{
    FittingKind, bend, by_kv, contraction, enlargement, fitting, mitre, reduced_valve,
};
use reference::friction::{Surface, roughness};

use super::desk::Desk;
use crate::solve::net::{Part, Pipe};
use crate::stages::flow::Stuff as Wet;
use crate::verdict::Words;

/// Radius of a bend in a hose over its bore, where nobody has measured it. Between two and six bores the
/// printed losses of a bend differ by less than a third. Common practice, no source.
const BEND_RADIUS: f64 = 4.0;

/// Friction in a hose whose wire stands out inside over that of a smooth one: the middle of 2 to 4. Common
/// practice, no source.
const RIBBED: f64 = 3.0;

/// One piece ready for a branch.
pub(super) struct Laid {
    /// Its parts in the order of flow.
    pub(super) parts: Vec<Part>,
    /// Its bore [m].
    pub(super) bore: Option<f64>,
    /// What is wet.
    pub(super) stuff: Wet,
    /// A hose without wire.
    pub(super) soft: bool,
    /// Volume of water in it [m³].
    pub(super) volume: f64,
}

/// What metal a wet part is of, as far as speed goes.
pub(super) fn wet(metal: Metal) -> Wet {
    match metal {
        Metal::CastIron
        | Metal::Steel
        | Metal::GalvanisedSteel
        | Metal::Stainless304
        | Metal::Stainless316
        | Metal::Stainless
        | Metal::Titanium => Wet::Steel,
        Metal::Aluminium => Wet::Aluminium,
        Metal::Copper => Wet::Copper,
        Metal::CuproNickel => Wet::CuproNickel,
        // Manganese bronze is a brass by what is in it.
        Metal::Brass | Metal::Dzr | Metal::ManganeseBronze => Wet::Brass,
        Metal::Gunmetal | Metal::Bronze => Wet::Bronze,
        Metal::AluminiumBronze => Wet::AluminiumBronze,
        Metal::Plastic => Wet::Hose,
    }
}

fn of_stuff(stuff: &Stuff) -> Wet {
    match stuff {
        Stuff::Metal(metal) => wet(*metal),
        Stuff::SomeMetal => Wet::Brass,
        Stuff::Moulded(_) => Wet::Hose,
    }
}

/// Height of the roughness of a surface [m]: the middle of what is published.
pub(super) fn rough(surface: Surface) -> f64 {
    roughness(surface).value.middle().si()
}

fn surface(stuff: Wet) -> Surface {
    match stuff {
        Wet::Steel => Surface::NewSteel,
        _ => Surface::DrawnOrHose,
    }
}

fn size(size: Size) -> Option<f64> {
    size.named().map(|named| named.as_length().si())
}

/// Loss of a throat that leaves a share of the area open, on the velocity head of the whole bore: the jet
/// narrows behind it by Weisbach's coefficient and widens as Borda and Carnot say.
/// Source: Weisbach's coefficients of contraction, from memory; Borda and Carnot in Crane TP-410.
pub(super) fn throat(open: f64) -> f64 {
    let open = open.clamp(1e-3, 1.0);
    let narrowed = 0.62 + 0.38 * open.powi(3);
    (1.0 / (narrowed * open) - 1.0).powi(2)
}

fn loss(k: f64, bore: f64) -> Part {
    Part::Loss {
        ahead: k,
        back: k,
        bore,
    }
}

/// The bores through which a run goes, in the order of its pieces; where a piece has none of its own that
/// of the hose beside it stands.
pub(crate) fn bores(pieces: &[Piece]) -> Vec<Option<f64>> {
    let own: Vec<Option<f64>> = pieces
        .iter()
        .map(|piece| match &piece.kind {
            PieceKind::Hose { size: named, .. } => size(*named),
            PieceKind::Elbow {
                size: named,
                stuff: Stuff::Moulded(_),
                ..
            } => size(*named),
            kind => kind.bore().map(|bore| bore.si()),
        })
        .collect();
    let hose = |i: usize| match &pieces[i].kind {
        PieceKind::Hose { size: named, .. } => size(*named),
        PieceKind::Reducer { from, to, .. } => size(*from).or(size(*to)),
        _ => None,
    };
    (0..pieces.len())
        .map(|i| {
            own[i]
                .or_else(|| (0..i).rev().find_map(hose))
                .or_else(|| (i + 1..pieces.len()).find_map(hose))
        })
        .collect()
}

/// Lengths of the pieces [m]: those typed, and for hoses without one what is left of the run.
pub(crate) fn lengths(pieces: &[Piece], whole: f64) -> Vec<f64> {
    let typed: f64 = pieces
        .iter()
        .filter_map(|piece| piece.long)
        .map(|long| long.si())
        .sum();
    let open = |piece: &Piece| piece.long.is_none() && matches!(piece.kind, PieceKind::Hose { .. });
    let count = pieces.iter().filter(|piece| open(piece)).count().max(1);
    let rest = (whole - typed).max(0.0) / count as f64;
    pieces
        .iter()
        .map(|piece| match piece.long {
            Some(long) => long.si(),
            None if open(piece) => rest,
            None => 0.0,
        })
        .collect()
}

/// Lengths to which the hoses of a run are cut where that is decided [m]: the water goes the whole of it, what is pushed
/// over the spigots too.
fn cuts(arranged: &Arranged, run: &Run, pieces: &[Piece]) -> Vec<Option<f64>> {
    (0..pieces.len())
        .map(|at| Some(arranged.cut(&run.key, pieces, at)?.0.si()))
        .collect()
}

/// Bends of the run that no elbow of it makes.
fn bends(run: &Run, pieces: &[Piece]) -> Vec<Angle> {
    let mut turns: Vec<Angle> = Vec::new();
    for bend in run.bends.given().map_or(&[][..], Vec::as_slice) {
        match bend {
            Bend::Turn { angle, .. } => turns.push(*angle),
            // Two turns of thirty degrees set a hose over. Common practice, no source.
            Bend::Offset { .. } => turns.extend([Angle::degrees(30.0); 2]),
        }
    }
    for piece in pieces {
        if let PieceKind::Elbow { angle, .. } = &piece.kind {
            let near = turns
                .iter()
                .position(|turn| (turn.to_degrees() - angle.to_degrees()).abs() <= 20.0);
            if let Some(at) = near {
                turns.remove(at);
            }
        }
    }
    turns
}

fn elbow(bore: f64, angle: Angle, stuff: &Stuff, radius: Option<Length>) -> Option<f64> {
    let own = Length::from_si(bore)?;
    if let Some(radius) = radius {
        let least = bore.max(radius.si());
        return bend(own, Length::from_si(least)?, angle).ok();
    }
    match stuff {
        Stuff::Moulded(_) => bend(own, Length::from_si(1.5 * bore)?, angle).ok(),
        _ if (angle.to_degrees() - 90.0).abs() < 10.0 => fitting(FittingKind::Elbow90, own).ok(),
        _ if (angle.to_degrees() - 45.0).abs() < 10.0 => fitting(FittingKind::Elbow45, own).ok(),
        _ => mitre(own, angle).ok(),
    }
}

fn kind_of(form: ValveForm) -> FittingKind {
    match form {
        ValveForm::Gate => FittingKind::GateValve,
        ValveForm::Check => FittingKind::SwingCheck,
        ValveForm::Ball | ValveForm::Cone => FittingKind::BallValve,
    }
}

/// Loss of a valve of a bore in a line of another, by its opening.
fn valve(kind: FittingKind, own: f64, line: f64, open: f64) -> Option<f64> {
    let own_bore = Length::from_si(own.min(line))?;
    let k = fitting(kind, own_bore).ok()? + throat(open);
    if own >= line {
        return Some(k);
    }
    reduced_valve(k, own / line, Angle::degrees(180.0)).ok()
}

/// Lays the pieces of a run: each with its parts. `None` for what has no size yet.
pub(super) fn lay(desk: &mut Desk, run: &Run, place: &str) -> Option<Vec<Laid>> {
    let Told::Given(pieces) = &run.way else {
        desk.miss(
            format!("Of what the run {} is made is not written.", run.key),
            format!("{place}.way"),
            "Write its pieces in the order of flow: `way = \"hose 38 epdm\"`.",
        );
        return None;
    };
    let whole = desk.value(&run.length, &format!("{place}.length"));
    let cuts = cuts(desk.arranged, run, pieces);
    let known = pieces
        .iter()
        .zip(&cuts)
        .filter(|(piece, _)| matches!(piece.kind, PieceKind::Hose { .. }))
        .all(|(piece, cut)| piece.long.is_some() || cut.is_some());
    let Some(whole) = whole.or_else(|| known.then_some(0.0)) else {
        desk.miss(
            format!("How long the run {} is, is not measured.", run.key),
            format!("{place}.length"),
            "Measure the run with the tape along its bends, from spigot to spigot.",
        );
        return None;
    };
    let bores = bores(pieces);
    let mut lengths = lengths(pieces, whole);
    for (length, cut) in lengths.iter_mut().zip(&cuts) {
        *length = cut.unwrap_or(*length);
    }
    if cuts.iter().any(Option::is_some) {
        desk.note("Hoses whose cut is decided are reckoned at that length.".into());
    }
    let turns = bends(run, pieces);
    if !turns.is_empty() {
        desk.note(
            "Bends of hose are reckoned at a radius of four bores; from two to six bores their loss changes by less than a third."
                .into(),
        );
    }
    let first_hose = pieces
        .iter()
        .position(|piece| matches!(piece.kind, PieceKind::Hose { .. }));
    let mut laid = Vec::with_capacity(pieces.len());
    for (i, piece) in pieces.iter().enumerate() {
        let Some(bore) = bores[i] else {
            desk.miss(
                format!(
                    "The size of {} in the run {} is not decided.",
                    piece.name, run.key
                ),
                format!("{place}.way"),
                "Decide its size, or take one that `order` proposes.",
            );
            return None;
        };
        let turns = if Some(i) == first_hose {
            &turns[..]
        } else {
            &[]
        };
        let Some(own) = one(
            desk,
            run,
            piece,
            bore,
            lengths[i],
            turns,
            line(pieces, &bores, i),
        ) else {
            desk.miss(
                format!(
                    "Nobody published what {} in the run {} loses at its size.",
                    piece.name, run.key
                ),
                format!("{place}.way"),
                "Look at its size and its angle again; of a valve write its `kv` from the sheet.",
            );
            return None;
        };
        laid.push(own);
    }
    Some(laid)
}

/// Bore of the line in which a piece sits: that of the hose beside it.
fn line(pieces: &[Piece], bores: &[Option<f64>], at: usize) -> f64 {
    let hose = |i: &usize| matches!(pieces[*i].kind, PieceKind::Hose { .. });
    let before = (0..at).rev().find(|i| hose(i));
    let after = (at..pieces.len()).find(|i| hose(i));
    before
        .or(after)
        .and_then(|i| bores[i])
        .or(bores[at])
        .unwrap_or(0.03)
}

fn one(
    desk: &mut Desk,
    run: &Run,
    piece: &Piece,
    bore: f64,
    long: f64,
    turns: &[Angle],
    line: f64,
) -> Option<Laid> {
    let volume = PI / 4.0 * bore * bore * long;
    let pipe = |stuff: Wet, k: f64, times: f64| {
        Part::Pipe(Pipe {
            bore,
            length: long,
            roughness: (rough(surface(stuff)) / bore).min(0.05),
            k,
            count: 1.0,
            factor: None,
            times,
        })
    };
    let plain = |parts: Vec<Part>, stuff: Wet, soft: bool| Laid {
        parts,
        bore: Some(bore),
        stuff,
        soft,
        volume,
    };
    Some(match &piece.kind {
        PieceKind::Hose { build, .. } => {
            let own = Length::of_si(bore);
            let radius = Length::of_si(BEND_RADIUS * bore);
            let k: f64 = turns
                .iter()
                .filter_map(|angle| bend(own, radius, *angle).ok())
                .sum();
            let wired = *build == Some(HoseBuild::Wired);
            let times = if piece.ribbed { RIBBED } else { 1.0 };
            plain(
                vec![pipe(Wet::Hose, k, times)],
                Wet::Hose,
                !wired && !piece.ribbed,
            )
        }
        PieceKind::Elbow {
            angle,
            stuff,
            radius,
            ..
        } => {
            let k = elbow(bore, *angle, stuff, *radius)?;
            let wet = of_stuff(stuff);
            // A bend's coefficient holds its own friction.
            plain(vec![loss(k, bore)], wet, matches!(stuff, Stuff::Moulded(_)))
        }
        PieceKind::Reducer { from, to, stuff } => {
            let (one, other) = (size(*from).unwrap_or(bore), size(*to).unwrap_or(bore));
            let (small, large) = (one.min(other), one.max(other));
            let angle = Angle::degrees(180.0);
            let narrows = contraction(small / large, angle).ok()?;
            let widens = enlargement(small / large, angle).ok()?;
            let (ahead, back) = if other < one {
                (narrows, widens)
            } else {
                (widens, narrows)
            };
            let part = Part::Loss {
                ahead,
                back,
                bore: small,
            };
            Laid {
                bore: Some(small),
                ..plain(vec![part], of_stuff(stuff), false)
            }
        }
        PieceKind::Joiner { stuff, .. } | PieceKind::Pipe { stuff, .. } => {
            let wet = of_stuff(stuff);
            let mut parts = vec![pipe(wet, 0.0, 1.0)];
            if bore < 0.95 * line {
                parts.push(loss(throat((bore / line).powi(2)), line));
            }
            plain(parts, wet, false)
        }
        PieceKind::Tee { stuff, .. } => plain(
            vec![pipe(of_stuff(stuff), 0.0, 1.0)],
            of_stuff(stuff),
            false,
        ),
        PieceKind::Valve {
            form,
            full_bore,
            stuff,
            bore: own,
            kv,
            ..
        } => {
            if own.is_none() && kv.is_none() && !full_bore {
                desk.note(Words::from(
                    format!(
                        "The port of {} in the run {} is not written; it is taken as wide as its line. Write its `bore`.",
                        piece.name, run.key
                    )
                    .as_str(),
                ));
            }
            let open = piece.open.map_or(1.0, |open| open.to_f64());
            let k = match kv {
                Some(kv) => by_kv(*kv, Length::of_si(line))
                    .ok()
                    .map(|k| k + throat(open)),
                None => valve(kind_of(*form), own.map_or(line, |own| own.si()), line, open),
            }?;
            let back = if *form == ValveForm::Check { 1e9 } else { k };
            let part = Part::Loss {
                ahead: k,
                back,
                bore: line,
            };
            plain(vec![part], of_stuff(stuff), false)
        }
    })
}

/// The parts of a screwed stack: its valve, and an elbow.
pub(super) fn chain(parts: &[ChainPart]) -> (Vec<Part>, Option<f64>) {
    let tail = parts
        .iter()
        .find_map(|part| part.tail.map(|(size, _)| size.as_length().si()));
    let mut out = Vec::new();
    let mut narrowest: Option<f64> = None;
    for part in parts {
        let own = part.bore.map(|bore| bore.si());
        let Some(line) = tail.or(own) else { continue };
        let bore = own.unwrap_or(line);
        narrowest = Some(narrowest.map_or(bore, |least| least.min(bore)));
        let open = part.open.map_or(1.0, |open| open.to_f64());
        let k = match part.kind {
            ChainKind::BallValve | ChainKind::ConeValve => {
                valve(FittingKind::BallValve, bore, line, open)
            }
            ChainKind::GateValve => valve(FittingKind::GateValve, bore, line, open),
            ChainKind::Elbow => fitting(FittingKind::Elbow90, Length::of_si(line)).ok(),
            ChainKind::Stub
            | ChainKind::Tail
            | ChainKind::Bush
            | ChainKind::Nipple
            | ChainKind::Plug => None,
        };
        if let Some(k) = k {
            out.push(loss(k, line));
        }
    }
    (out, narrowest)
}
