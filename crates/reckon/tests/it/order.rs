//! The list, bought exactly as printed, against truths drawn by a simulation of its own: generator,
//! formulas, rules and the handing out of clips are written here again and share nothing with the crate.
//!
//! What is taken from the answer is what it prints: the list, the shelf, the windows of bores, and the
//! readings with their limits as each working names them.

// How often list and single sizes fail is there to be read: `cargo test -p reckon --test it order:: -- --nocapture`.
#![allow(clippy::disallowed_macros)]

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::PI;

use boat::{Arranged, Boat, ClipWord};
use quantity::{Length, NominalSize};
use reckon::{Answer, Input, Memo, Order, OrderAsk, Set, Ware, order, reckon};
use reference::clip::{ClipKind, clip_by_size, standard_clips};
use reference::hose::{HoseKind, wall, widest_bore_limits};

use crate::boats::{DEMO, read};

/// Truths drawn a boat.
const TRUTHS: usize = 2000;

/// An even generator of our own: a counter, mixed. Source of the three constants: S. Vigna's public
/// SplitMix64; from memory.
struct Even(u64);

impl Even {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        (z >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn within(&mut self, (low, high): (f64, f64)) -> f64 {
        low + (high - low) * self.next()
    }
}

/// Least and greatest, in millimetres.
type Span = (f64, f64);

/// The outside of a free hose, by what is known of it.
#[derive(Clone, Copy, Debug)]
enum Skin {
    Over(Span),
    Wall(Span),
}

/// Where a hose comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Source {
    /// Bought by the list: its bore is measured before it is paid for.
    Counter,
    /// From the shelf, or aboard.
    Shelf,
}

/// A hose: which length it is cut from, its build and its sizes.
#[derive(Clone, Debug)]
struct Tube {
    length: String,
    source: Source,
    kind: HoseKind,
    bore: Span,
    skin: Skin,
}

/// One joint of the list.
#[derive(Clone, Debug)]
struct Joint {
    key: String,
    spigot: Span,
    bead: Option<Span>,
    tube: Option<Tube>,
    /// Outside diameter that was read with the hose pushed on for trial.
    trial: Option<Span>,
    clips: u32,
    kind: ClipWord,
    ring_on_first: bool,
    /// The hose was pushed on for trial, and went.
    went_on: bool,
}

/// A kind of clip in the bag, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Clip {
    kind: ClipWord,
    closed: f64,
    open: f64,
}

/// One truth of a joint: what its clip has to hold.
#[derive(Clone, Copy, Debug)]
struct Held {
    free: f64,
    fitted: f64,
    spigot: f64,
    /// What a closed ring has to pass.
    ring: f64,
    /// Whether the hose goes on, and is held once it is on.
    goes_on: bool,
}

impl Clip {
    /// By its name on the list: `worm 32-50 316`, `single-ear 24.1`.
    fn named(name: &str) -> Self {
        let mut words = name.split_whitespace();
        let kind = match words.next().expect("a kind") {
            "worm" => ClipWord::Worm,
            "t-bolt" => ClipWord::TBolt,
            "single-ear" => ClipWord::SingleEar,
            "two-ear" => ClipWord::TwoEar,
            "spring" => ClipWord::SpringBand,
            word => panic!("{word} is no kind of clip"),
        };
        let size = words.next().expect("a size");
        let number = |text: &str| text.parse::<f64>().expect("a size in mm");
        match size.split_once('-') {
            Some((closed, open)) => Self {
                kind,
                closed: number(closed),
                open: number(open),
            },
            None => Self::sized(kind, number(size)),
        }
    }

    /// A ring by the one size that it is sold by. An ear's inner width s shortens the girth by s at
    /// most, so the diameter by s/π: 5.5, 8 or 10 mm, from memory of what is sold.
    fn sized(kind: ClipWord, size: f64) -> Self {
        let ear = match size {
            ..12.0 => 5.5,
            ..19.0 => 8.0,
            _ => 10.0,
        };
        match kind {
            ClipWord::SpringBand => {
                let band = clip_by_size(ClipKind::SpringBand, Length::mm(size));
                let band = band.expect("a spring band of the table");
                Self {
                    kind,
                    closed: band.closed.to_mm(),
                    open: band.open.to_mm(),
                }
            }
            _ => Self {
                kind,
                closed: size - ear / PI,
                open: size,
            },
        }
    }

    /// Whether it holds in this truth. Common practice, no source: a worm drive or spring squeezes a
    /// fifth of the wall, a bolted band a tenth; an ear is closed by 0.40 to 0.95 of its travel.
    fn holds(&self, held: Held) -> bool {
        let squeeze = if self.kind == ClipWord::TBolt {
            0.10
        } else {
            0.20
        };
        let tight = held.fitted - squeeze * (held.fitted - held.spigot);
        // A loose hose is as large as it is when free until the clip draws it in.
        let starts = self.open
            >= held.fitted.max(if held.free > held.fitted {
                held.free
            } else {
                0.0
            });
        match self.kind {
            ClipWord::Worm | ClipWord::TBolt => starts && self.closed <= tight,
            ClipWord::SpringBand => starts && self.closed <= tight && self.open >= held.ring,
            ClipWord::SingleEar | ClipWord::TwoEar => {
                let closing = (self.open - tight) / (self.open - self.closed);
                starts && self.open >= held.ring && (0.40..=0.95).contains(&closing)
            }
        }
    }
}

/// The outside of a hose over a metal, somewhere between the two models that bound it: no slip keeps
/// the section of the rubber, D² − s² = o² − i²; the other keeps the wall, D = s + o − i.
fn over_metal(metal: f64, bore: f64, over: f64, between: f64) -> f64 {
    let no_slip = (metal * metal + (over - bore) * (over + bore)).sqrt();
    let wall_kept = metal + over - bore;
    (1.0 - between) * no_slip + between * wall_kept
}

/// How much a bore that lies in a printed window may seem to miss it, as the list prints tenths, mm.
const PRINTED: f64 = 0.05;

/// Whether a hose goes over a spigot and its bead by hand, and is not too loose to be held. Common
/// practice, no source: fabric rubber 10 % (15 % where it went on for trial), fabric silicone 6 and 10 %,
/// wire 3 %, plain rubber 25 %, all of them 5 % more over the bead; loose by half a millimetre or by 2 %
/// of the spigot at most.
fn goes_on(kind: HoseKind, tried: bool, bore: f64, spigot: f64, bead: Option<f64>) -> bool {
    let most = match (kind, tried) {
        (HoseKind::FabricEpdm, false) | (HoseKind::FabricSilicone, true) => 0.10,
        (HoseKind::FabricEpdm, true) => 0.15,
        (HoseKind::FabricSilicone, false) => 0.06,
        (HoseKind::WireHelix, _) => 0.03,
        (HoseKind::PlainRubber | HoseKind::PlainSilicone, _) => 0.25,
    };
    let passes = |metal: f64, most: f64| metal <= (bore + PRINTED) * (1.0 + most);
    passes(spigot, most)
        && bead.is_none_or(|bead| passes(bead, most + 0.05))
        && bore - PRINTED <= spigot + (0.02 * spigot).min(0.5)
}

/// Whether one truth is drawn for a whole length of hose, or afresh at each joint.
#[derive(Clone, Copy, Debug, PartialEq)]
enum World {
    OneHoseOneTruth,
    EachEndApart,
}

fn truth(joints: &[Joint], world: World, even: &mut Even) -> Vec<Held> {
    let mut lengths: BTreeMap<&str, [f64; 3]> = BTreeMap::new();
    joints
        .iter()
        .map(|joint| {
            let spigot = even.within(joint.spigot);
            let bead = joint.bead.map(|bead| even.within(bead));
            let fresh = [even.next(), even.next(), even.next()];
            let Some(tube) = &joint.tube else {
                let fitted = even.within(joint.trial.expect("a trial where no hose is known"));
                return Held {
                    free: 0.0,
                    fitted,
                    spigot,
                    ring: f64::INFINITY,
                    goes_on: true,
                };
            };
            let [b, o, between] = match world {
                World::OneHoseOneTruth => *lengths.entry(&tube.length).or_insert(fresh),
                World::EachEndApart => fresh,
            };
            let at = |(low, high): Span, share: f64| low + (high - low) * share;
            let bore = at(tube.bore, b);
            let over = match tube.skin {
                Skin::Over(over) => at(over, o),
                Skin::Wall(wall) => bore + 2.0 * at(wall, o),
            };
            let fitted = match joint.trial {
                Some(trial) => even.within(trial),
                None => over_metal(spigot, bore, over, between),
            };
            let ring = match (bead, joint.ring_on_first) {
                (None, _) => fitted,
                (Some(bead), true) => bead,
                (Some(bead), false) => over_metal(bead, bore, over, between).max(over),
            };
            let free = if joint.trial.is_some() {
                0.0
            } else if bore > spigot {
                over
            } else {
                0.0
            };
            Held {
                free,
                fitted,
                spigot,
                ring,
                goes_on: goes_on(tube.kind, joint.went_on, bore, spigot, bead),
            }
        })
        .collect()
}

/// Whether every hose goes on and every joint finds its clips in the bag at once: each need takes a free clip that holds, and
/// where none is free, a need that holds one moves on to another.
fn all_made_up(joints: &[Joint], truth: &[Held], bag: &[(Clip, u32)]) -> bool {
    let clips: Vec<Clip> = bag
        .iter()
        .flat_map(|(clip, count)| std::iter::repeat_n(*clip, *count as usize))
        .collect();
    if truth.iter().any(|held| !held.goes_on) {
        return false;
    }
    let mut needs: Vec<(&Joint, Vec<usize>)> = Vec::new();
    for (joint, held) in joints.iter().zip(truth) {
        let may = |clip: &Clip| clip.kind == joint.kind || clip.kind == ClipWord::Worm;
        let serve: Vec<usize> = (0..clips.len())
            .filter(|&at| may(&clips[at]) && clips[at].holds(*held))
            .collect();
        for _ in 0..joint.clips {
            needs.push((joint, serve.clone()));
        }
    }
    // The pickiest first: then little has to be moved.
    needs.sort_by_key(|(_, serve)| serve.len());
    let mut taken: Vec<Option<usize>> = vec![None; clips.len()];
    (0..needs.len()).all(|need| {
        let mut asked = BTreeSet::new();
        seat(need, &needs, &mut taken, &mut asked)
    })
}

fn seat(
    need: usize,
    needs: &[(&Joint, Vec<usize>)],
    taken: &mut [Option<usize>],
    asked: &mut BTreeSet<usize>,
) -> bool {
    for &clip in &needs[need].1 {
        if !asked.insert(clip) {
            continue;
        }
        let free = match taken[clip] {
            None => true,
            Some(holder) => seat(holder, needs, taken, asked),
        };
        if free {
            taken[clip] = Some(need);
            return true;
        }
    }
    false
}

fn share(joints: &[Joint], bag: &[(Clip, u32)], world: World, seed: u64) -> f64 {
    let mut even = Even(seed);
    let made = (0..TRUTHS)
        .filter(|_| all_made_up(joints, &truth(joints, world, &mut even), bag))
        .count();
    made as f64 / TRUTHS as f64
}

/// A joint by which the simulation's own rules are tried: fabric hose of 16 on a spigot that is known.
fn tried(spigot: f64, bead: f64, kind: ClipWord) -> Joint {
    Joint {
        key: "tried.from".to_owned(),
        spigot: (spigot, spigot),
        bead: Some((bead, bead)),
        tube: Some(Tube {
            length: "tried".to_owned(),
            source: Source::Shelf,
            kind: HoseKind::FabricEpdm,
            bore: (16.0, 16.0),
            skin: Skin::Over((24.0, 24.0)),
        }),
        trial: None,
        clips: 1,
        kind,
        ring_on_first: false,
        went_on: false,
    }
}

/// Checks how sure one bag is for one joint.
#[track_caller]
fn is_served(joint: &Joint, bag: &[Clip], served: f64) {
    let bag: Vec<(Clip, u32)> = bag.iter().map(|clip| (*clip, 1)).collect();
    let found = share(std::slice::from_ref(joint), &bag, World::EachEndApart, 1);
    assert_eq!(found, served, "{joint:?} of {bag:?}");
}

/// Hand calculation: 24 on 17 is √(289 + 576 − 256) = √609 = 24.68 to 25.0; squeezed by a fifth of the wall
/// 23.14 to 23.4, by a tenth 23.9 to 24.2; over a bead of 18.4 it is √(342.25 + 320) = 25.73 to 26.5. A ring
/// of 27.1 with an ear of 10, 3.183 of diameter, is then closed by 1.16 to 1.24; one of 25.6 by 0.69 to 0.77.
#[test]
fn the_simulation_knows_what_holds_and_what_does_not() {
    let worm = |closed, open| Clip {
        kind: ClipWord::Worm,
        closed,
        open,
    };
    let bolt = |closed, open| Clip {
        kind: ClipWord::TBolt,
        closed,
        open,
    };
    let joint = tried(17.0, 18.4, ClipWord::Worm);
    is_served(&joint, &[worm(16.0, 27.0)], 1.0);
    is_served(&joint, &[worm(16.0, 24.6)], 0.0);
    is_served(&joint, &[worm(23.5, 30.0)], 0.0);
    is_served(
        &tried(17.0, 18.4, ClipWord::TBolt),
        &[bolt(23.5, 25.1)],
        1.0,
    );
    let ear = tried(17.0, 18.4, ClipWord::SingleEar);
    is_served(&ear, &[Clip::sized(ClipWord::SingleEar, 27.1)], 0.0);
    // It would close rightly, but does not pass the bead unless it goes on first.
    is_served(&ear, &[Clip::sized(ClipWord::SingleEar, 25.6)], 0.0);
    let first = Joint {
        ring_on_first: true,
        ..ear
    };
    is_served(&first, &[Clip::sized(ClipWord::SingleEar, 25.6)], 1.0);
    let two = Joint { clips: 2, ..joint };
    is_served(&two, &[worm(16.0, 27.0)], 0.0);
    is_served(&two, &[worm(16.0, 27.0), worm(20.0, 32.0)], 1.0);
    // By hand, 16 goes over 17 and 18.4 (6 and 15 %), not over 17.8 (11 %) nor over a bead of 19 (19 %),
    // and does not hold on 15.5, which leaves 0.5 where 2 % is 0.31.
    let by_hand = |spigot, bead| goes_on(HoseKind::FabricEpdm, false, 16.0, spigot, Some(bead));
    assert!(by_hand(17.0, 18.4));
    assert!(!by_hand(17.8, 18.0) && !by_hand(17.0, 19.0) && !by_hand(15.5, 17.0));
}

/// What the list says of a boat, as the simulation needs it.
struct Told {
    joints: Vec<Joint>,
    /// Bought and of the shelf.
    bag: Vec<(Clip, u32)>,
    /// The one size that the list calls usual for each joint, and nothing more.
    usual: Vec<(Clip, u32)>,
    /// Joints that are hidden under an old hose.
    hidden: Vec<String>,
    /// Joints that wait for something else, or can't be made up as they are written.
    open: Vec<String>,
    /// The program's own two shares.
    says: (f64, f64),
}

fn millimetres(number: &reckon::WorkingInput) -> Span {
    let (value, half) = (
        number.value.si,
        number.tolerance.as_ref().map_or(0.0, |half| half.si),
    );
    ((value - half) * 1000.0, (value + half) * 1000.0)
}

/// The window of bores that a line of the list prints: `only a bore of 18.5 to 19.5 mm goes on`.
fn window(notes: &[reckon::Words]) -> Option<Span> {
    let note = notes.iter().find_map(|note| {
        let (_, rest) = note.metric.split_once("only a bore of ")?;
        rest.split_once(" mm")
            .map(|(numbers, _)| numbers.to_owned())
    })?;
    let number = |text: &str| text.trim().parse::<f64>().expect("a bore in mm");
    Some(match note.split_once(" to ") {
        Some((low, high)) => (number(low), number(high)),
        None => (number(&note), number(&note)),
    })
}

/// Bores that lie in a window too, where there is one.
fn within(bore: Span, window: Option<Span>) -> Span {
    window.map_or(bore, |(low, high)| {
        (bore.0.max(low), bore.1.min(high).max(low))
    })
}

/// The window of a moulded piece that is bought.
fn cuff_window(order: &Order, piece: &str) -> Option<Span> {
    let moulded = [Ware::Elbow, Ware::Reducer];
    let mut lines = order.list.lines.iter();
    let line = lines.find(|line| {
        moulded.contains(&line.ware) && line.wanted_by.iter().any(|name| name == piece)
    })?;
    window(&line.notes)
}

/// The piece of hose or the cuff that a joint belongs to: `hot.hose2`.
fn piece_of(boat: &Boat, joint: &str) -> Option<String> {
    let (run, end) = joint.split_once('.')?;
    let pieces = boat.run(run)?.way.given()?;
    let at = |name: &str| pieces.iter().position(|piece| piece.name == name);
    let piece = match end.split_once('.') {
        None if end == "from" => pieces.first()?,
        None => pieces.last()?,
        Some((name, "a")) => &pieces[at(name)?.checked_sub(1)?],
        Some((name, _)) => pieces.get(at(name)? + 1)?,
    };
    Some(format!("{run}.{}", piece.name))
}

/// The pieces of which a name of the list speaks: `hot.hose and hot.hose2`.
fn pieces_in(name: &str) -> impl Iterator<Item = &str> {
    name.split(" and ").flat_map(|part| part.split(", "))
}

fn kind_of(name: &str) -> HoseKind {
    match name {
        name if name.contains("silicone") => HoseKind::FabricSilicone,
        name if name.contains("wired") => HoseKind::WireHelix,
        _ => HoseKind::FabricEpdm,
    }
}

/// A hose that is bought: any bore that a shop sells by that name and that the list lets one take,
/// and any wall that such a hose usually has.
fn bought(order: &Order, piece: &str) -> Option<Tube> {
    let line = order.list.lines.iter().find(|line| {
        line.ware == Ware::Hose
            && line
                .wanted_by
                .iter()
                .any(|name| pieces_in(name).any(|of| of == piece))
    })?;
    let words = line.name.strip_prefix("hose ").expect("a hose");
    let (size, _) = words.rsplit_once(' ').expect("a build after the size");
    let size = NominalSize::parse(size).expect("a size by name");
    let limits = widest_bore_limits(size).expect("sold by this name").value;
    let bore = within(
        (limits.low.to_mm(), limits.high.to_mm()),
        window(&line.notes),
    );
    let wall = wall(kind_of(&line.name), size.as_length())
        .expect("a usual wall")
        .value;
    Some(Tube {
        length: piece.to_owned(),
        source: Source::Counter,
        kind: kind_of(&line.name),
        bore,
        skin: Skin::Wall((wall.low.to_mm(), wall.high.to_mm())),
    })
}

/// The length of the shelf that a piece is cut from, or the piece itself.
fn length_of(order: &Order, piece: &str) -> String {
    let of = order.shelf.iter().position(|shelf| {
        shelf
            .pieces
            .iter()
            .any(|(name, _)| pieces_in(name).any(|of| of == piece))
    });
    of.map_or_else(|| piece.to_owned(), |at| format!("shelf {at}"))
}

/// The file after what the list takes as done, and what is judged of it.
fn after(text: &str, order: &Order) -> (Boat, Answer) {
    let text = order.done.iter().fold(text.to_owned(), |text, done| {
        boat::set_value(&text, &done.edit.place, &done.edit.to).expect("an edit that applies")
    });
    let boat = read(&text);
    let input = Input {
        boat: &boat,
        arrangement: order.arrangement.as_deref(),
        seed: 7,
        set: Set::All,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    (boat, answer)
}

fn told(text: &str) -> Told {
    let typed = read(text);
    let order = order(text, &typed, OrderAsk::default(), &mut Memo::default());
    let (boat, answer) = after(text, &order);
    let arranged: Arranged = boat
        .arranged(order.arrangement.as_deref())
        .expect("the arrangement");
    let boat = &arranged.boat;
    let waits =
        |joint: &str| {
            order.list.waits.iter().find(|waits| {
                waits.what == "clip" && waits.wanted_by.iter().any(|key| key == joint)
            })
        };
    let (mut joints, mut hidden, mut open) = (Vec::new(), Vec::new(), Vec::new());
    for row in &answer.joints {
        let key = &row.joint;
        if let Some(waits) = waits(key) {
            if waits.hidden { &mut hidden } else { &mut open }.push(key.clone());
            continue;
        }
        if order.blocked.iter().any(|blocked| blocked.joint == *key) {
            open.push(key.clone());
            continue;
        }
        let inputs: Vec<&reckon::WorkingInput> = answer
            .verdicts
            .iter()
            .filter(|verdict| verdict.subject == *key)
            .flat_map(|verdict| &verdict.working.inputs)
            .collect();
        let span = |symbol: &str| {
            let of = inputs.iter().find(|input| input.symbol == symbol);
            of.map(|input| millimetres(input))
        };
        let piece = piece_of(boat, key).unwrap_or_else(|| panic!("{key} has no hose"));
        let tube = bought(&order, &piece).or_else(|| {
            let skin = span("d_o")
                .map(Skin::Over)
                .or_else(|| span("t").map(Skin::Wall));
            let cuff = cuff_window(&order, &piece);
            Some(Tube {
                length: length_of(&order, &piece),
                source: cuff.map_or(Source::Shelf, |_| Source::Counter),
                kind: kind_of(&row.hose),
                bore: within(span("d_i")?, cuff),
                skin: skin?,
            })
        });
        let note = boat.joints.iter().find(|note| note.joint == *key);
        let decided = note
            .and_then(|note| note.clip.given())
            .map(|clip| clip.kind);
        let asked = note.and_then(|note| note.clip_kind.given()).copied();
        joints.push(Joint {
            key: key.clone(),
            spigot: span("d_s").unwrap_or_else(|| panic!("{key} has no spigot")),
            bead: span("d_b"),
            trial: span("D"),
            tube,
            clips: row.clips.unwrap_or(1),
            kind: decided.or(asked).unwrap_or(ClipWord::Worm),
            ring_on_first: note.and_then(|note| note.ring_on_first.given()) == Some(&true),
            went_on: note.and_then(|note| note.trial_fit.given()) == Some(&true),
        });
    }
    let mut bag: Vec<(Clip, u32)> = boat
        .stock
        .clips
        .iter()
        .map(|own| {
            let mm = |length: Length| length.to_mm();
            let clip = match (own.clip.range, own.clip.size) {
                (Some((closed, open)), _) => Clip {
                    kind: own.clip.kind,
                    closed: mm(closed),
                    open: mm(open),
                },
                (None, Some(size)) => Clip::sized(own.clip.kind, mm(size)),
                (None, None) => panic!("a clip without a size on the shelf"),
            };
            (clip, own.count)
        })
        .collect();
    let lines = order
        .list
        .lines
        .iter()
        .filter(|line| line.ware == Ware::Clip);
    let usual = lines
        .clone()
        .map(|line| (Clip::named(&line.name), line.needed as u32))
        .collect();
    bag.extend(lines.map(|line| (Clip::named(&line.name), line.buy as u32)));
    Told {
        joints,
        bag,
        usual,
        hidden,
        open,
        says: (order.list.made_up, order.list.naive),
    }
}

fn middle((low, high): Span) -> f64 {
    (low + high) / 2.0
}

/// The naive list: for each joint the one size that suits the free hose, as one picks it with the hose
/// in the hand at the counter, and as many of it as the joint wants.
fn naive(joints: &[Joint]) -> Vec<(Clip, u32)> {
    let mut bag = Vec::new();
    for joint in joints {
        let free = match (&joint.tube, joint.trial) {
            (
                Some(Tube {
                    skin: Skin::Over(over),
                    ..
                }),
                _,
            ) => middle(*over),
            (
                Some(Tube {
                    skin: Skin::Wall(wall),
                    bore,
                    ..
                }),
                _,
            ) => middle(*bore) + 2.0 * middle(*wall),
            (None, Some(trial)) => middle(trial),
            (None, None) => panic!("{} has no hose", joint.key),
        };
        let kind = match joint.kind {
            ClipWord::Worm => ClipKind::WormDrive,
            ClipWord::SingleEar => ClipKind::SingleEar,
            ClipWord::TwoEar => ClipKind::TwoEar,
            ClipWord::TBolt => ClipKind::TBolt,
            ClipWord::SpringBand => ClipKind::SpringBand,
        };
        let nearest = standard_clips(kind)
            .iter()
            .map(|clip| Clip {
                kind: joint.kind,
                closed: clip.closed.to_mm(),
                open: clip.open.to_mm(),
            })
            .filter(|clip| clip.closed <= free && free <= clip.open)
            .min_by(|a, b| a.open.total_cmp(&b.open));
        bag.extend(nearest.map(|clip| (clip, joint.clips)));
    }
    bag
}

/// Checks one boat: the list as bought serves every joint that is told. Returns the share in which one
/// size a joint would have served them.
fn check(name: &str, text: &str) -> f64 {
    let told = told(text);
    let joints = &told.joints;
    assert!(joints.len() >= 20, "{name}: only {} joints", joints.len());
    // Every joint is served but the one whose spigot nobody can get at yet.
    assert!(told.open.is_empty(), "{name}: {:?} wait", told.open);
    assert_eq!(told.hidden.len(), 1, "{name}: {:?}", told.hidden);
    let by_size = naive(joints);
    let mut least = 1.0_f64;
    for world in [World::OneHoseOneTruth, World::EachEndApart] {
        let list = share(joints, &told.bag, world, 20_260_401);
        let naive = share(joints, &by_size, world, 20_260_401);
        let usual = share(joints, &told.usual, world, 20_260_401);
        println!(
            "{name}, {world:?}: {} joints, {} hidden, {} open; the list fails {:.2} in 100, one size a joint {:.2} by the hose and {:.2} by the free hose; the program says {:.2} and {:.2}",
            joints.len(),
            told.hidden.len(),
            told.open.len(),
            100.0 * (1.0 - list),
            100.0 * (1.0 - usual),
            100.0 * (1.0 - naive),
            100.0 * (1.0 - told.says.0),
            100.0 * (1.0 - told.says.1),
        );
        // What is bought by its window goes on whatever the spigot truly is; one of the shelf may not.
        let mut even = Even(20_260_401);
        let mut fails: BTreeMap<&str, usize> = BTreeMap::new();
        for _ in 0..TRUTHS {
            for (joint, held) in joints.iter().zip(truth(joints, world, &mut even)) {
                if !held.goes_on {
                    let source = joint.tube.as_ref().map(|tube| tube.source);
                    assert_ne!(source, Some(Source::Counter), "{name}: {joint:?}");
                    *fails.entry(&joint.key).or_default() += 1;
                }
            }
        }
        println!("{name}: of {TRUTHS} truths the hose does not go on in {fails:?}");
        assert!(list >= 0.98, "{name}, {world:?}: {list}");
        least = least.min(usual);
        for one_size in [usual, naive] {
            assert!(
                one_size <= list,
                "{name}, {world:?}: {one_size} with one size a joint, {list} with the list"
            );
        }
    }
    least
}

#[test]
fn the_list_of_each_demo_boat_serves_every_joint_that_is_not_hidden() {
    let one_size: Vec<f64> = DEMO
        .into_iter()
        .map(|(name, text)| check(name, text))
        .collect();
    // The simulation is no rubber stamp: on one of the boats the sizes that are likeliest, and no other, fail.
    assert!(one_size.iter().any(|share| *share < 0.98), "{one_size:?}");
}
