//! Order: one list of what the job needs, what of it lies on the shelf, and what is to be bought so
//! that a size that turns out wrong does not stop the work.

use std::collections::BTreeMap;

use boat::Key;
use quantity::{Length, Quantity};

use crate::say;
use crate::solve::cover::{self, Place};
use crate::solve::cut;
use crate::stages::types::{Subject, counted_names};
use crate::verdict::{Basis, Grade, Settles, Stage, Verdict, Words};

/// Kinds of thing to buy, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Ware {
    Hose,
    Elbow,
    Reducer,
    Joiner,
    Fitting,
    Clip,
    BlankingCap,
    Washer,
    Sealant,
    Support,
    Coolant,
    Water,
    PressureCap,
    Thermostat,
    Belt,
}

impl Ware {
    /// The word for a reader.
    pub fn word(self) -> &'static str {
        match self {
            Self::Hose => "hose",
            Self::Elbow => "elbow",
            Self::Reducer => "reducer",
            Self::Joiner => "joiner",
            Self::Fitting => "fitting",
            Self::Clip => "clip",
            Self::BlankingCap => "blanking cap",
            Self::Washer => "washer",
            Self::Sealant => "sealant",
            Self::Support => "support",
            Self::Coolant => "coolant",
            Self::Water => "water",
            Self::PressureCap => "pressure cap",
            Self::Thermostat => "thermostat",
            Self::Belt => "belt",
        }
    }

    /// The kind of shop that has it, where the owner's prices name none. Common practice, no source.
    pub fn shop(self) -> &'static str {
        match self {
            Self::Hose | Self::Elbow | Self::Reducer | Self::Joiner | Self::Clip => {
                "hose and clip shop"
            }
            Self::Fitting | Self::BlankingCap | Self::Washer | Self::Sealant => {
                "plumber's and fittings merchant"
            }
            Self::Support => "chandler",
            Self::Coolant | Self::Water | Self::PressureCap | Self::Thermostat | Self::Belt => {
                "motor factor or engine dealer"
            }
        }
    }
}

/// In what a ware is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Measure {
    Pieces,
    Metres,
    Litres,
}

/// Something needed, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// What kind.
    pub ware: Ware,
    /// As one asks for it: `reducer 38>32 bronze`.
    pub name: String,
    /// How much.
    pub amount: f64,
    /// Of what.
    pub measure: Measure,
    /// Joints, pieces or things that it is for.
    pub wanted_by: Vec<Key>,
    /// What to mind when it is bought.
    pub notes: Vec<Words>,
}

/// A joint and the clips that hold it.
#[derive(Clone, Debug, PartialEq)]
pub struct JointAsk {
    /// `hot.from`.
    pub key: Key,
    /// `A1`.
    pub mark: String,
    /// How many clips.
    pub clips: u32,
    /// Name of a clip, and in which draws it holds.
    pub candidates: Vec<(String, Vec<bool>)>,
    /// The one to take where nothing else is known.
    pub usual: Option<String>,
}

/// Hose of one name, in pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct HoseAsk {
    /// `hose 38 epdm`.
    pub name: String,
    /// Key and length of each piece that no length of the shelf gives [m].
    pub pieces: Vec<(Key, f64)>,
    /// Those of which only the most is known.
    pub at_most: Vec<Key>,
    /// What to mind when it is bought.
    pub notes: Vec<Words>,
}

/// What can't be bought yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Waits {
    /// What waits: `clip`, `hose 19 epdm`.
    pub what: String,
    /// For whom.
    pub wanted_by: Vec<Key>,
    /// Why, in a sentence.
    pub because: Words,
    /// What would settle it.
    pub settles: Settles,
    /// Whether it waits for a spigot that is hidden under its old hose.
    pub hidden: bool,
}

/// What a shop asks for a ware, by the owner's word.
#[derive(Clone, Debug, PartialEq)]
pub struct Tag {
    /// As typed.
    pub name: String,
    /// Price of one measure and its currency.
    pub each: Option<(f64, String)>,
    /// Of what that is the price, where it was typed.
    pub per: Option<Measure>,
    /// Sold only in packs of so many.
    pub pack: Option<u32>,
    /// Days until it is there.
    pub days: Option<u32>,
    /// Whether the shop takes it back.
    pub returnable: Option<bool>,
    /// Which shop.
    pub shop: Option<String>,
    /// In which lengths a hose is sold [m].
    pub lengths: Vec<f64>,
}

/// Own things of one name in one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Own {
    /// As one asks for it.
    pub name: String,
    /// How many.
    pub count: u32,
    /// Where they lie, where that is written.
    pub place: Option<String>,
}

/// All that is read.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderInput {
    /// Joints whose sizes are known.
    pub joints: Vec<JointAsk>,
    /// Hose that the shelf does not give.
    pub hoses: Vec<HoseAsk>,
    /// Everything else, already counted.
    pub asks: Vec<Ask>,
    /// What can't be bought yet.
    pub waits: Vec<Waits>,
    /// Clips of the shelf.
    pub own_clips: Vec<Own>,
    /// Fittings of the shelf.
    pub own_parts: Vec<Own>,
    /// The owner's prices.
    pub tags: Vec<Tag>,
    /// The risk that is accepted that a size turns out wrong, 0 to 1.
    pub risk: f64,
    /// Who said so.
    pub risk_from: String,
    /// What a cut loses [m].
    pub kerf: f64,
    /// How many draws each joint has.
    pub draws: usize,
}

/// What lies on the shelf and is used.
#[derive(Clone, Debug, PartialEq)]
pub struct Have {
    /// How much of it is taken.
    pub amount: f64,
    /// Where it lies, where that is written.
    pub place: Option<String>,
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What kind.
    pub ware: Ware,
    /// As one asks for it.
    pub name: String,
    /// In what it is counted.
    pub measure: Measure,
    /// How much the job needs.
    pub needed: f64,
    /// What the shelf gives.
    pub have: Vec<Have>,
    /// How much to buy.
    pub buy: f64,
    /// Of that, how much only guards against a size that turns out wrong.
    pub spare: f64,
    /// For whom.
    pub wanted_by: Vec<Key>,
    /// What to mind.
    pub notes: Vec<Words>,
    /// Price of one, and its currency.
    pub each: Option<(f64, String)>,
    /// Price of all.
    pub total: Option<f64>,
    /// Days until it is there.
    pub days: Option<u32>,
    /// Whether the shop takes it back.
    pub returnable: Option<bool>,
    /// Which shop.
    pub shop: String,
}

/// The whole list.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderOutput {
    /// Lines with something needed, by kind and name.
    pub lines: Vec<Line>,
    /// What waits.
    pub waits: Vec<Waits>,
    /// Sum of what is priced, by currency.
    pub totals: Vec<(String, f64)>,
    /// How many lines to buy have no price.
    pub unpriced: usize,
    /// The longest delivery, where any is written.
    pub days: Option<u32>,
    /// The chance that every joint of the list can be made up with what is then there.
    pub made_up: f64,
    /// The same with the usual clip for each joint and nothing more.
    pub naive: f64,
    /// The verdict on that.
    pub verdict: Verdict,
}

/// Makes the list.
pub fn order(input: &OrderInput) -> OrderOutput {
    let (clips, cover) = clips(input);
    let mut lines: Vec<Line> = input
        .hoses
        .iter()
        .map(|hose| hose_line(input, hose))
        .collect();
    lines.extend(merged(&input.asks).into_iter().map(|ask| part(input, ask)));
    lines.extend(clips);
    lines.sort_by(|a, b| a.ware.cmp(&b.ware).then(a.name.cmp(&b.name)));
    for line in &mut lines {
        price(input, line);
    }
    let bought = || lines.iter().filter(|line| line.buy > 0.0);
    let mut totals: BTreeMap<String, f64> = BTreeMap::new();
    for line in bought() {
        if let (Some((_, currency)), Some(total)) = (&line.each, line.total) {
            *totals.entry(currency.clone()).or_default() += total;
        }
    }
    let unpriced = bought().filter(|line| line.total.is_none()).count();
    let days = bought().filter_map(|line| line.days).max();
    let verdict = verdict(input, &cover);
    OrderOutput {
        waits: input.waits.clone(),
        totals: totals.into_iter().collect(),
        unpriced,
        days,
        made_up: cover.share,
        naive: cover.naive,
        verdict,
        lines,
    }
}

/// Adds up what goes by one name.
fn merged(asks: &[Ask]) -> Vec<Ask> {
    let mut all: BTreeMap<(Ware, &str), Ask> = BTreeMap::new();
    for ask in asks {
        let slot = all.entry((ask.ware, &ask.name)).or_insert_with(|| Ask {
            amount: 0.0,
            wanted_by: Vec::new(),
            notes: Vec::new(),
            ..ask.clone()
        });
        slot.amount += ask.amount;
        slot.wanted_by.extend(ask.wanted_by.iter().cloned());
        for note in &ask.notes {
            if !slot.notes.contains(note) {
                slot.notes.push(note.clone());
            }
        }
    }
    all.into_values().collect()
}

/// Which clips to buy so that all joints can be made up in as many draws as the risk asks for.
fn clips(input: &OrderInput) -> (Vec<Line>, cover::Cover) {
    let mut names: Vec<&str> = input
        .own_clips
        .iter()
        .map(|own| own.name.as_str())
        .chain(
            input
                .joints
                .iter()
                .flat_map(|joint| joint.candidates.iter().map(|(name, _)| name.as_str())),
        )
        .collect();
    names.sort_unstable();
    names.dedup();
    // OK because every name looked up is in the list of names.
    let at = |name: &str| names.binary_search(&name).unwrap_or(0);
    let places: Vec<Place> = input
        .joints
        .iter()
        .map(|joint| Place {
            needs: joint.clips,
            serves: joint
                .candidates
                .iter()
                .map(|(name, holds)| (at(name), holds.clone()))
                .collect(),
            usual: joint.usual.as_deref().map(at),
        })
        .collect();
    let owned: Vec<u32> = names
        .iter()
        .map(|name| {
            let of_name = input.own_clips.iter().filter(|own| own.name == *name);
            of_name.fold(0_u32, |sum, own| sum.saturating_add(own.count))
        })
        .collect();
    let cost: Vec<f64> = names
        .iter()
        .map(|name| {
            tag(input, name)
                .and_then(|tag| tag.each.as_ref())
                .map_or(1.0, |(price, _)| price.max(0.01))
        })
        .collect();
    let cover = cover::cover(&places, &owned, &cost, input.draws, 1.0 - input.risk);
    let taken = taken(&places, &owned, &cover);
    let mut lines = Vec::new();
    for (i, name) in names.iter().enumerate() {
        let users: Vec<&JointAsk> = input
            .joints
            .iter()
            .zip(&taken)
            .filter(|(_, kind)| **kind == Some(i))
            .map(|(joint, _)| joint)
            .collect();
        let needed = users
            .iter()
            .fold(0_u32, |sum, joint| sum.saturating_add(joint.clips));
        if needed == 0 && cover.buy[i] == 0 {
            continue;
        }
        let (buy, spare) = (cover.buy[i], cover.spare[i]);
        let mut left = needed.min(owned[i]);
        let mut have = Vec::new();
        for own in input.own_clips.iter().filter(|own| own.name == *name) {
            let taken = own.count.min(left);
            left -= taken;
            if taken > 0 {
                have.push(Have {
                    amount: f64::from(taken),
                    place: own.place.clone(),
                });
            }
        }
        let mut notes = Vec::new();
        if spare > 0 {
            notes.push(
                format!(
                    "{spare} of these only in case a hose comes out larger or smaller than reckoned"
                )
                .as_str()
                .into(),
            );
        }
        lines.push(Line {
            ware: Ware::Clip,
            name: (*name).to_owned(),
            measure: Measure::Pieces,
            needed: f64::from(needed),
            have,
            buy: f64::from(buy),
            spare: f64::from(spare),
            wanted_by: users.iter().map(|joint| joint.key.clone()).collect(),
            notes,
            each: None,
            total: None,
            days: None,
            returnable: None,
            shop: Ware::Clip.shop().to_owned(),
        });
    }
    (lines, cover)
}

/// The kind that each joint takes: its usual one, or where fewer of those are there than joints that
/// want them, another of the shelf that holds in most draws and is still free.
fn taken(places: &[Place], owned: &[u32], cover: &cover::Cover) -> Vec<Option<usize>> {
    let mut left: Vec<u32> = owned
        .iter()
        .zip(&cover.buy)
        .map(|(own, buy)| own.saturating_add(*buy))
        .collect();
    let mut kinds: Vec<Option<usize>> = places.iter().map(|_| None).collect();
    for (place, kind) in places.iter().zip(&mut kinds) {
        if let Some(usual) = place.usual.filter(|usual| left[*usual] >= place.needs) {
            left[usual] -= place.needs;
            *kind = Some(usual);
        }
    }
    for (place, kind) in places.iter().zip(&mut kinds) {
        if kind.is_some() {
            continue;
        }
        let held = |holds: &[bool]| holds.iter().filter(|holds| **holds).count();
        *kind = place
            .serves
            .iter()
            .filter(|(other, _)| left[*other] >= place.needs)
            .max_by_key(|(_, holds)| held(holds))
            .map(|(other, _)| *other)
            .or(place.usual);
        if let Some(other) = *kind {
            left[other] = left[other].saturating_sub(place.needs);
        }
    }
    kinds
}

/// Metres to the decimetre above, as one buys off the roll.
fn off_the_roll(metres: f64) -> f64 {
    (metres * 10.0 - 1e-6).ceil().max(0.0) / 10.0
}

fn hose_line(input: &OrderInput, hose: &HoseAsk) -> Line {
    let pieces: Vec<f64> = hose.pieces.iter().map(|(_, length)| *length).collect();
    let needed = pieces.iter().sum::<f64>() + input.kerf * (pieces.len().max(1) - 1) as f64;
    let mut notes = hose.notes.clone();
    notes.push(Words::of(|system| {
        let cuts: Vec<String> = hose
            .pieces
            .iter()
            .map(|(key, length)| {
                let most = if hose.at_most.contains(key) {
                    "at most "
                } else {
                    ""
                };
                format!("{key} {most}{}", say::whole_mm(*length, system))
            })
            .collect();
        format!("cut from it: {}", say::list(&cuts, "and"))
    }));
    if !hose.at_most.is_empty() {
        notes.push("what is given at most is offered up and cut in place".into());
    }
    let sold = tag(input, &hose.name).map_or(&[][..], |tag| &tag.lengths);
    let buy = match cut::purchase(&pieces, sold, input.kerf) {
        Some(purchase) => {
            let lengths: Vec<String> = purchase
                .lengths
                .iter()
                .map(|length| format!("{length} m"))
                .collect();
            notes.push(
                format!("in lengths of {}", say::list(&lengths, "and"))
                    .as_str()
                    .into(),
            );
            purchase.lengths.iter().sum()
        }
        None => {
            if !sold.is_empty() {
                notes.push(
                    "longer than any length that the shop sells: ask for it off the roll".into(),
                );
            }
            off_the_roll(needed)
        }
    };
    Line {
        ware: Ware::Hose,
        name: hose.name.clone(),
        measure: Measure::Metres,
        needed,
        have: Vec::new(),
        buy,
        spare: 0.0,
        wanted_by: hose.pieces.iter().map(|(key, _)| key.clone()).collect(),
        notes,
        each: None,
        total: None,
        days: None,
        returnable: None,
        shop: Ware::Hose.shop().to_owned(),
    }
}

fn part(input: &OrderInput, ask: Ask) -> Line {
    let mut left = ask.amount;
    let mut have = Vec::new();
    if ask.measure == Measure::Pieces {
        for own in input.own_parts.iter().filter(|own| own.name == ask.name) {
            let taken = f64::from(own.count).min(left);
            left -= taken;
            if taken > 0.0 {
                have.push(Have {
                    amount: taken,
                    place: own.place.clone(),
                });
            }
        }
    }
    Line {
        ware: ask.ware,
        shop: ask.ware.shop().to_owned(),
        name: ask.name,
        measure: ask.measure,
        needed: ask.amount,
        have,
        buy: left,
        spare: 0.0,
        wanted_by: ask.wanted_by,
        notes: ask.notes,
        each: None,
        total: None,
        days: None,
        returnable: None,
    }
}

/// The owner's price for a name: the same, whatever the case of its letters, with millimetres said or
/// left out.
fn tag<'a>(input: &'a OrderInput, name: &str) -> Option<&'a Tag> {
    let bare = |name: &str| {
        let words = name.split_whitespace().filter(|word| *word != "mm");
        words.collect::<Vec<_>>().join(" ").to_lowercase()
    };
    let name = bare(name);
    input.tags.iter().find(|tag| bare(&tag.name) == name)
}

/// Puts price, delivery and packs to a line.
fn price(input: &OrderInput, line: &mut Line) {
    let named = tag(input, &line.name).or_else(|| tag(input, line.ware.word()));
    let Some(tag) = named else { return };
    line.days = tag.days;
    line.returnable = tag.returnable;
    if let Some(shop) = &tag.shop {
        line.shop.clone_from(shop);
    }
    let pieces = line.measure == Measure::Pieces;
    if let (Some(pack), true) = (tag.pack, pieces && line.buy > 0.0) {
        let packs = (line.buy / f64::from(pack)).ceil();
        let more = packs * f64::from(pack);
        if more > line.buy {
            line.notes.push(
                format!(
                    "sold in packs of {pack}: {} more than needed",
                    more - line.buy
                )
                .as_str()
                .into(),
            );
            line.buy = more;
        }
    }
    let Some((each, currency)) = &tag.each else {
        return;
    };
    // A price for another measure than the line's says nothing of its sum; nor does one of a length or
    // of litres that does not say of how much.
    let unsaid = tag.per.is_none() && line.measure != Measure::Pieces;
    if unsaid || tag.per.is_some_and(|per| per != line.measure) {
        line.notes
            .push("its price is not written per metre or litre, so it is not added up".into());
        return;
    }
    line.each = Some((*each, currency.clone()));
    line.total = Some(each * line.buy);
}

fn verdict(input: &OrderInput, cover: &cover::Cover) -> Verdict {
    let subject = Subject {
        key: "list".into(),
        title: "the list".into(),
        place: "stock".into(),
    };
    let target = 1.0 - input.risk;
    let share = cover.share;
    let grade = if input.joints.is_empty() {
        Grade::Unmeasured
    } else if share >= target {
        Grade::Sound
    } else if share >= 0.5 {
        Grade::Marginal
    } else {
        Grade::Unsound
    };
    let (made, naive) = (say::chance(share), say::chance(cover.naive));
    let joints = counted_names(input.joints.len(), "joint");
    let because = if input.joints.is_empty() {
        "No joint is measured far enough to buy for.".to_owned()
    } else {
        format!(
            "All measured joints ({joints}) can be made up with this list: {made}. With one clip size a joint and nothing more: {naive}."
        )
    };
    let mut verdict = subject.verdict(Stage::Order, "risk", grade, because.as_str().into());
    verdict.basis = Basis::Physics;
    verdict.chance = (!input.joints.is_empty()).then_some(share);
    verdict.remedy = match grade {
        Grade::Sound => Words::default(),
        Grade::Unmeasured => "Measure the spigots and the hose first: `survey --next` ranks them.".into(),
        _ => "Push the hoses on for trial and measure round them before the clips are bought: no spare size covers what is not known of them.".into(),
    };
    verdict.step(
        "share of draws in which every joint finds its clips in the bag (largest matching)",
        format!("{} draws of {joints}", input.draws).as_str().into(),
        made.as_str().into(),
    );
    verdict.working.limit = format!(
        "at least {} in 100 ({})",
        (target * 1000.0).round() / 10.0,
        input.risk_from
    )
    .as_str()
    .into();
    verdict.source("sampling of every reading within its limits; each joint by itself");
    verdict.spoken()
}

/// A length for a list, to a tenth of a millimetre.
pub fn bore_note(least: Length, most: Length) -> Words {
    Words::of(|system| {
        format!(
            "take a caliper: only a bore of {} goes on and holds",
            say::mm_range(least.si(), most.si(), system)
        )
    })
}
