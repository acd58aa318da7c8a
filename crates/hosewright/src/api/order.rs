//! The order as it is sent.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::{About, Remark, Settles, Text, Verdict, Where};

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum OrderSchema {
    #[serde(rename = "hosewright.order/1")]
    V1,
}

/// What `order --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Order {
    /// Name and version of this document's form.
    pub schema: OrderSchema,
    /// What is bought for.
    #[serde(flatten)]
    pub about: About,
    /// Seed of all sampling.
    pub seed: u64,
    /// Risk that is accepted, 0 to 1.
    pub risk: f64,
    /// What each cut of a hose loses [m].
    pub kerf: f64,
    /// Chance that every measured joint can be made up with this list, 0 to 1.
    pub made_up: f64,
    /// The same with one clip size a joint and nothing more.
    pub made_up_naive: f64,
    /// Edits of the file that the list takes as done.
    pub done: Vec<Done>,
    /// One line a ware.
    pub lines: Vec<Line>,
    /// What can't be bought yet.
    pub waits: Vec<Waits>,
    /// Hose that the shelf gives.
    pub shelf: Vec<FromShelf>,
    /// Joints that can't be made up as they are written.
    pub blocked: Vec<Blocked>,
    /// Runs that stay as they are, by the owner's decision.
    pub stays: Vec<String>,
    /// Sums by currency.
    pub totals: Vec<Total>,
    /// How many lines have no price.
    pub unpriced: usize,
    /// Longest delivery in days, where any is written.
    pub days: Option<u32>,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// Cut lengths, and the verdict on the list.
    pub verdicts: Vec<Verdict>,
}

/// An edit that the list takes as done.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct Done {
    pub verdict: String,
    pub because: Text,
    pub place: String,
    pub to: String,
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct Line {
    pub ware: String,
    pub name: String,
    /// `pieces`, `m` or `L`.
    pub measure: String,
    pub needed: f64,
    pub have: Vec<Have>,
    pub buy: f64,
    /// Of what is bought, how much only guards against a wrong size.
    pub spare: f64,
    pub wanted_by: Vec<String>,
    pub notes: Vec<Text>,
    pub each: Option<f64>,
    pub currency: Option<String>,
    pub total: Option<f64>,
    pub days: Option<u32>,
    pub returnable: Option<bool>,
    pub shop: String,
}

/// What the shelf gives.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct Have {
    pub amount: f64,
    pub place: Option<String>,
}

/// What can't be bought yet.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct Waits {
    pub what: String,
    pub wanted_by: Vec<String>,
    pub because: Text,
    /// Whether a spigot hidden under its old hose is the reason.
    pub hidden: bool,
    pub settles: Settles,
}

/// What is cut from one length of the shelf.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FromShelf {
    pub hose: String,
    /// In metres.
    pub length: f64,
    pub place: Option<String>,
    pub pieces: Vec<Cut>,
    /// Pieces of which only the most is known.
    pub at_most: Vec<String>,
    /// In metres.
    pub left: f64,
}

/// One piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct Cut {
    pub piece: String,
    /// In metres.
    pub length: f64,
}

/// A joint that can't be made up.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct Blocked {
    pub joint: String,
    pub verdict: String,
    pub because: Text,
}

/// A sum.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct Total {
    pub currency: String,
    pub amount: f64,
}

/// The word of a measure.
pub fn measure(measure: reckon::Measure) -> &'static str {
    match measure {
        reckon::Measure::Pieces => "pieces",
        reckon::Measure::Metres => "m",
        reckon::Measure::Litres => "L",
    }
}

impl From<reckon::Line> for Line {
    fn from(line: reckon::Line) -> Self {
        let reckon::Line {
            ware,
            name,
            measure: of,
            needed,
            have,
            buy,
            spare,
            wanted_by,
            notes,
            each,
            total,
            days,
            returnable,
            shop,
        } = line;
        let (each, currency) = each.unzip();
        let own = |reckon::Have { amount, place }: reckon::Have| Have { amount, place };
        Self {
            ware: ware.word().to_owned(),
            name,
            measure: measure(of).to_owned(),
            needed,
            have: have.into_iter().map(own).collect(),
            buy,
            spare,
            wanted_by,
            notes: notes.into_iter().map(Text::from).collect(),
            each,
            currency,
            total,
            days,
            returnable,
            shop,
        }
    }
}

impl Order {
    /// From the answer.
    pub fn of(
        order: reckon::Order,
        about: About,
        seed: u64,
        remarks: Vec<Remark>,
        places: &dyn Where,
    ) -> Self {
        let reckon::Order {
            arrangement: _,
            done,
            built: _,
            list,
            shelf,
            cuts: _,
            blocked,
            stays,
            verdicts,
            risk,
            kerf,
        } = order;
        let reckon::OrderOutput {
            lines,
            waits,
            totals,
            unpriced,
            days,
            made_up,
            naive,
            verdict: _,
        } = list;
        let done_of = |reckon::Done { id, because, edit }: reckon::Done| Done {
            verdict: id,
            because: because.into(),
            place: edit.place,
            to: edit.to,
        };
        let waits_of = |waits: reckon::Waits| {
            let reckon::Waits {
                what,
                wanted_by,
                because,
                settles,
                hidden,
            } = waits;
            Waits {
                what,
                wanted_by,
                because: because.into(),
                hidden,
                settles: Settles {
                    place: places.place(settles.place),
                    how: settles.how,
                },
            }
        };
        let cut = |(piece, length): (String, f64)| Cut { piece, length };
        let shelf_of = |from: reckon::FromShelf| {
            let reckon::FromShelf {
                hose,
                length,
                place,
                pieces,
                at_most,
                left,
            } = from;
            FromShelf {
                hose,
                length,
                place,
                pieces: pieces.into_iter().map(cut).collect(),
                at_most,
                left,
            }
        };
        let blocked_of = |blocked: reckon::Blocked| {
            let reckon::Blocked { joint, id, because } = blocked;
            Blocked {
                joint,
                verdict: id,
                because: because.into(),
            }
        };
        Self {
            schema: OrderSchema::V1,
            about,
            seed,
            risk,
            kerf,
            made_up,
            made_up_naive: naive,
            done: done.into_iter().map(done_of).collect(),
            lines: lines.into_iter().map(Line::from).collect(),
            waits: waits.into_iter().map(waits_of).collect(),
            shelf: shelf.into_iter().map(shelf_of).collect(),
            stays,
            blocked: blocked.into_iter().map(blocked_of).collect(),
            totals: totals
                .into_iter()
                .map(|(currency, amount)| Total { currency, amount })
                .collect(),
            unpriced,
            days,
            remarks,
            verdicts: verdicts
                .into_iter()
                .map(|verdict| Verdict::of(verdict, Some(places)))
                .collect(),
        }
    }
}
