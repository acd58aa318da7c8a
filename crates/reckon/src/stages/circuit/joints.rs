//! Circuit: which end goes on which, in order of flow; what is missing between two pieces; where
//! the sea can come in.

use boat::{Boat, Carries, Key, Metal, Piece, PieceKind, Run, RunEnd, Stuff, ThingKind};
use quantity::NominalSize;

/// One hose end on one male end.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// `hot.from`, `hot.reducer.a`.
    pub key: Key,
    /// What is written on it: `A1`.
    pub mark: String,
    /// Which run.
    pub run: Key,
    /// The male end.
    pub male: Male,
    /// Which piece of the run goes over it; `None` where the way is not written.
    pub female: Option<usize>,
}

/// A male end.
#[derive(Clone, Debug, PartialEq)]
pub enum Male {
    /// A spigot of a thing.
    Spigot(RunEnd),
    /// The branch of another run's tee.
    Branch {
        /// Run of the tee.
        run: Key,
        /// The tee.
        piece: Key,
    },
    /// An end of a piece of the run.
    Piece(usize),
}

/// Two neighbours that can't be joined as they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Misfit {
    /// Which run.
    pub run: Key,
    /// For the id: `hose-elbow`.
    pub between: String,
    /// The neighbours, for people.
    pub names: (String, String),
    /// Two open ends want a joiner; two stubs want a hose.
    pub both_female: bool,
    /// Where in the way something is missing.
    pub at: usize,
}

/// The joints of a run and what does not go together in it.
pub fn joints(run: &Run, mark: &str) -> (Vec<Joint>, Vec<Misfit>) {
    let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
    let male_end = |end: &RunEnd| match end {
        RunEnd::Tee { run, piece } => Male::Branch {
            run: run.clone(),
            piece: piece.clone(),
        },
        end => Male::Spigot(end.clone()),
    };
    let mut joints = Vec::new();
    let mut misfits = Vec::new();
    let mut add = |key: String, male: Male, female: Option<usize>| {
        let mark = format!("{mark}{}", joints.len() + 1);
        joints.push(Joint {
            key,
            mark,
            run: run.key.clone(),
            male,
            female,
        });
    };
    let first_male = pieces.first().is_some_and(|piece| piece.kind.is_male());
    let last_male = pieces.last().is_some_and(|piece| piece.kind.is_male());
    add(
        format!("{}.from", run.key),
        male_end(&run.from),
        if pieces.is_empty() || first_male {
            None
        } else {
            Some(0)
        },
    );
    for (i, piece) in pieces.iter().enumerate() {
        if piece.kind.is_male() {
            let before = i
                .checked_sub(1)
                .filter(|before| !pieces[*before].kind.is_male());
            let after = Some(i + 1).filter(|after| {
                pieces
                    .get(*after)
                    .is_some_and(|piece| !piece.kind.is_male())
            });
            for (end, female) in [("a", before), ("b", after)] {
                if female.is_some() {
                    add(
                        format!("{}.{}.{end}", run.key, piece.name),
                        Male::Piece(i),
                        female,
                    );
                }
            }
        }
    }
    add(
        format!("{}.to", run.key),
        male_end(&run.to),
        if pieces.is_empty() || last_male {
            None
        } else {
            Some(pieces.len() - 1)
        },
    );
    for (i, pair) in pieces.windows(2).enumerate() {
        let (one, other) = (&pair[0], &pair[1]);
        if one.kind.is_male() == other.kind.is_male() {
            misfits.push(Misfit {
                run: run.key.clone(),
                between: format!("{}-{}", one.name, other.name),
                names: (one.name.clone(), other.name.clone()),
                both_female: !one.kind.is_male(),
                at: i + 1,
            });
        }
    }
    for (stands, name, at) in [(first_male, "from", 0), (last_male, "to", pieces.len())] {
        if stands {
            let piece = if at == 0 { &pieces[0] } else { &pieces[at - 1] };
            misfits.push(Misfit {
                run: run.key.clone(),
                between: if at == 0 {
                    format!("{name}-{}", piece.name)
                } else {
                    format!("{}-{name}", piece.name)
                },
                names: (
                    format!("the spigot at {}.{name}", run.key),
                    piece.name.clone(),
                ),
                both_female: false,
                at,
            });
        }
    }
    (joints, misfits)
}

/// The mark of each run, of every arrangement: those of the file as they stand, free letters for the
/// rest in the order of the file. They are dealt once for all arrangements, so that a run has the
/// same letter in each.
pub fn marks(boat: &Boat) -> Vec<(Key, String)> {
    let added = boat.arrangements.iter().flat_map(|step| &step.add_runs);
    let mut runs: Vec<&Run> = Vec::new();
    for run in boat.runs.iter().chain(added) {
        if runs.iter().all(|known| known.key != run.key) {
            runs.push(run);
        }
    }
    let taken: Vec<&String> = runs.iter().filter_map(|run| run.mark.as_ref()).collect();
    let mut free = (0..).map(letters).filter(|mark| !taken.contains(&mark));
    runs.iter()
        .map(|run| {
            let mark = run.mark.clone().or_else(|| free.next()).unwrap_or_default();
            (run.key.clone(), mark)
        })
        .collect()
}

/// A, B, … Z, AA, AB, …, without I and O, which a wet thumb reads as figures.
fn letters(index: usize) -> String {
    const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let mut index = index;
    let mut mark = String::new();
    loop {
        mark.insert(0, char::from(LETTERS[index % LETTERS.len()]));
        index /= LETTERS.len();
        if index == 0 {
            return mark;
        }
        index -= 1;
    }
}

/// Whether the sea stands behind this end: a hull fitting, or a run of raw water.
pub fn at_the_sea(boat: &Boat, run: &Run, joint: &Joint) -> bool {
    let fitting = match &joint.male {
        Male::Spigot(end) => boat
            .spigot_at(end)
            .is_some_and(|(thing, _)| thing.kind.given() == Some(&ThingKind::HullFitting)),
        Male::Branch { .. } | Male::Piece(_) => false,
    };
    fitting || run.carries == Carries::RawWater
}

/// Whether any part of the coolant's circuit is of aluminium: spigots on its runs, their pieces,
/// keel pipes, skin tanks, tubes of an exchanger. What only raw water touches does not count.
pub fn has_aluminium(boat: &Boat) -> bool {
    let is = |metal: Option<&Metal>| metal == Some(&Metal::Aluminium);
    let wetted = |run: &&Run| matches!(run.carries, Carries::Coolant | Carries::Vent);
    let in_runs = boat.runs.iter().filter(wetted).any(|run| {
        let ends = [&run.from, &run.to];
        let spigot = ends.into_iter().any(|end| {
            boat.spigot_at(end)
                .is_some_and(|(_, spigot)| is(spigot.metal.given()))
        });
        let way = run.way.given().map_or(&[][..], Vec::as_slice);
        spigot || way.iter().any(|piece| is(metal_of(&piece.kind).as_ref()))
    });
    in_runs
        || boat.things.iter().any(|thing| {
            let detail = &thing.detail;
            let pipes = detail.pipes.as_ref().map(|pipes| &pipes.metal);
            let channel = detail.channel.as_ref().map(|channel| &channel.metal);
            let tubes = detail.tubes.as_ref().map(|tubes| &tubes.metal);
            let metals = [pipes, channel, tubes];
            metals.into_iter().flatten().any(|metal| is(metal.given()))
        })
}

/// What a fitting is made of, where that is said; a hose or a cuff is of no metal.
pub fn metal_of(kind: &PieceKind) -> Option<Metal> {
    let stuff = match kind {
        PieceKind::Hose { .. } => return None,
        PieceKind::Elbow { stuff, .. }
        | PieceKind::Reducer { stuff, .. }
        | PieceKind::Joiner { stuff, .. }
        | PieceKind::Valve { stuff, .. }
        | PieceKind::Pipe { stuff, .. }
        | PieceKind::Tee { stuff, .. } => stuff,
    };
    match stuff {
        Stuff::Metal(metal) => Some(*metal),
        Stuff::SomeMetal | Stuff::Moulded(_) => None,
    }
}

/// The size by name of a bought piece's own end, where it is decided.
pub fn end_size(kind: &PieceKind, joint: &Joint) -> Option<NominalSize> {
    let downstream = joint.key.ends_with(".b");
    let size = match kind {
        PieceKind::Tee { sizes, .. } => match (&joint.male, downstream) {
            (Male::Branch { .. }, _) => sizes[2],
            (_, true) => sizes[1],
            (_, false) => sizes[0],
        },
        PieceKind::Reducer { to, .. } if downstream => *to,
        PieceKind::Reducer { from, .. } => *from,
        PieceKind::Elbow { size, .. }
        | PieceKind::Joiner { size, .. }
        | PieceKind::Valve { size, .. }
        | PieceKind::Pipe { size, .. }
        | PieceKind::Hose { size, .. } => *size,
    };
    size.named()
}

/// The piece of a run, for people: `reducer in cold`.
pub fn piece_name(run: &Run, piece: &Piece) -> String {
    format!("{} in {}", piece.name, run.key)
}

/// Whether a piece is a hose or a moulded cuff, which another joint may share.
pub fn is_hose(kind: &PieceKind) -> bool {
    !kind.is_male()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_leave_out_what_looks_like_figures() {
        let first: Vec<String> = (0..26).map(letters).collect();
        assert_eq!(first[0], "A");
        assert_eq!(first[8], "J");
        assert_eq!(first[23], "Z");
        assert_eq!(first[24], "AA");
        assert_eq!(first[25], "AB");
    }
}
