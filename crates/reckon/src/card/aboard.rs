//! What lies aboard: the shelf of the file, less what a refit takes off it, and less what is ashore.

use boat::{Boat, HoseBuild, PieceKind, Run, Size, Stock, StockHose, ThingKind};
use quantity::Quantity;

use crate::shop::Order;
use crate::stages::fit;
use crate::stages::fit::hoses::is_same_size;

/// Words for places that are none aboard.
const ASHORE: [&str; 5] = ["ashore", "home", "shed", "garage", "workshop"];
/// What is shorter than this is no sleeve and no spare [m]. Common practice, no source.
const SCRAP: f64 = 0.05;
/// What a hose is cut longer than the way between its two spigots [m]. Common practice, no source.
const ENDS: f64 = 0.08;

/// What lies aboard.
pub(super) struct Aboard<'a> {
    stock: &'a Stock,
    /// How many clips.
    clips: u32,
    /// How many of each entry of the parts.
    parts: Vec<u32>,
    /// How much of each entry of the hose [m].
    hoses: Vec<f64>,
}

/// Hose that is wanted, and what of it is not there.
pub(super) struct Wants {
    pub(super) wants: Vec<String>,
    pub(super) lacks: Vec<String>,
}

/// A piece of hose that is wanted.
struct Wanted {
    size: Size,
    build: Option<HoseBuild>,
    /// Between the mouths of its spigots [m], where that is told.
    length: Option<f64>,
}

impl<'a> Aboard<'a> {
    /// The shelf of a file; with an order, what is left of it once that is built.
    pub(super) fn of(boat: &'a Boat, order: Option<&Order>) -> Self {
        let stock = &boat.stock;
        let mut taken: Vec<(&str, Option<&str>, f64)> = order
            .iter()
            .flat_map(|order| &order.list.lines)
            .flat_map(|line| {
                let name = line.name.as_str();
                let have = line.have.iter();
                have.map(move |have| (name, have.place.as_deref(), have.amount))
            })
            .collect();
        // What is there of an entry less what is taken by its name from its place.
        let mut left = |count: u32, name: Option<String>, place: Option<&str>| {
            let mut left = count;
            for (own, at, amount) in &mut taken {
                if name.as_deref() == Some(*own) && *at == place {
                    let off = f64::from(left).min(*amount);
                    *amount -= off;
                    left -= off as u32;
                }
            }
            left
        };
        let mut clips = 0_u32;
        for own in &stock.clips {
            let name = fit::clip_name(&crate::facts::wanted(&own.clip));
            let count = left(own.count, name, own.place.as_deref());
            if !is_ashore(own.place.as_deref()) {
                clips = clips.saturating_add(count);
            }
        }
        let parts = stock.parts.iter().map(|own| {
            let name = Some(boat::piece_text(&own.kind));
            let count = left(own.count, name, own.place.as_deref());
            if is_ashore(own.place.as_deref()) {
                0
            } else {
                count
            }
        });
        let parts = parts.collect();
        Self {
            stock,
            clips,
            parts,
            hoses: hoses(stock, order),
        }
    }

    /// In words, one by one.
    pub(super) fn spares(&self) -> Vec<String> {
        let at = |place: &Option<String>| {
            place
                .as_ref()
                .map_or_else(String::new, |place| format!(", {place}"))
        };
        let things = self.stock.aboard.iter();
        let mut spares: Vec<String> = things
            .filter(|text| !is_ashore(Some(text.as_str())))
            .cloned()
            .collect();
        for (part, count) in self.stock.parts.iter().zip(&self.parts) {
            if *count > 0 {
                let name = boat::piece_text(&part.kind);
                spares.push(format!("{count} x {name}{}", at(&part.place)));
            }
        }
        for (hose, left) in self.stock.hose.iter().zip(&self.hoses) {
            if *left >= SCRAP {
                let name = hose_name(Size::Named(hose.size), hose.build);
                spares.push(format!("{} {name}{}", metres_down(*left), at(&hose.place)));
            }
        }
        match self.clips {
            0 => {}
            1 => spares.push("1 clip".into()),
            clips => spares.push(format!("{clips} clips")),
        }
        spares
    }

    /// The hose that runs take, and what of it no length aboard gives.
    pub(super) fn wants(&self, runs: &[&Run]) -> Wants {
        let mut pieces: Vec<Wanted> = runs.iter().flat_map(|run| wanted(run)).collect();
        let mut wants = Sums::default();
        for piece in &pieces {
            wants.add(piece);
        }
        // The longest is cut first, so that the shorter ones come out of what is left.
        pieces.sort_by(|a, b| {
            let long = |piece: &Wanted| piece.length.unwrap_or(f64::MAX);
            long(b).total_cmp(&long(a))
        });
        let mut left = self.hoses.clone();
        let mut lacks = Sums::default();
        for piece in &pieces {
            let length = piece.length.map_or(f64::MAX, |length| length + ENDS);
            let from = self
                .stock
                .hose
                .iter()
                .zip(&mut left)
                .find(|(own, left)| piece.is_of(own) && **left >= length);
            match from {
                Some((_, left)) => *left -= length,
                None => lacks.add(piece),
            }
        }
        Wants {
            wants: wants.words(),
            lacks: lacks.words(),
        }
    }
}

impl Wanted {
    /// Whether it may be cut from an entry of the shelf.
    fn is_of(&self, own: &StockHose) -> bool {
        let size = self.size.named();
        size.is_some_and(|size| is_same_size(size, own.size))
            && (self.build.is_none() || own.build.is_none() || self.build == own.build)
    }
}

/// Lengths by name, in the order in which the names came up; `None` once one of a name is not told.
#[derive(Default)]
struct Sums(Vec<(String, Option<f64>)>);

impl Sums {
    fn add(&mut self, piece: &Wanted) {
        let name = hose_name(piece.size, piece.build);
        let at = self.0.iter().position(|(own, _)| *own == name);
        match at {
            Some(at) => {
                let sum = &mut self.0[at].1;
                *sum = sum.zip(piece.length).map(|(sum, own)| sum + own);
            }
            None => self.0.push((name, piece.length)),
        }
    }

    fn words(&self) -> Vec<String> {
        let words = self.0.iter().map(|(name, length)| match length {
            Some(length) => format!("{} {name}", metres_up(*length)),
            None => format!("{name} (length not written)"),
        });
        words.collect()
    }
}

/// The pieces of hose in a run. Of its length the one piece that has none takes what the others leave.
fn wanted(run: &Run) -> Vec<Wanted> {
    let whole = run.length.given().map(|length| length.value.si());
    let Some(pieces) = run.way.given() else {
        return vec![Wanted {
            size: Size::Choose,
            build: None,
            length: whole,
        }];
    };
    let open = pieces.iter().filter(|piece| piece.long.is_none()).count();
    let told: f64 = pieces
        .iter()
        .filter_map(|piece| piece.long.map(|long| long.si()))
        .sum();
    let rest = whole
        .filter(|_| open == 1)
        .map(|whole| (whole - told).max(0.0));
    let hoses = pieces.iter().filter_map(|piece| match piece.kind {
        PieceKind::Hose { size, build } => Some(Wanted {
            size,
            build,
            length: piece.long.map(|long| long.si()).or(rest),
        }),
        _ => None,
    });
    hoses.collect()
}

/// How much is left of each entry of the shelf [m].
fn hoses(stock: &Stock, order: Option<&Order>) -> Vec<f64> {
    let mut left: Vec<f64> = stock.hose.iter().map(|own| own.length.si()).collect();
    for cut in order.iter().flat_map(|order| &order.shelf) {
        let fits =
            |at: usize| stock.hose[at].place == cut.place && (left[at] - cut.length).abs() < 1e-6;
        let named = |at: usize| {
            let size = boat::size_text(Size::Named(stock.hose[at].size));
            format!(" {} ", cut.hose).contains(&format!(" {size} "))
        };
        let all: Vec<usize> = (0..left.len()).filter(|at| fits(*at)).collect();
        let by_name = all.iter().copied().find(|at| named(*at));
        if let Some(at) = by_name.or_else(|| all.first().copied()) {
            left[at] = cut.left;
        }
    }
    for (own, left) in stock.hose.iter().zip(&mut left) {
        if is_ashore(own.place.as_deref()) {
            *left = 0.0;
        }
    }
    left
}

fn hose_name(size: Size, build: Option<HoseBuild>) -> String {
    boat::piece_text(&PieceKind::Hose { size, build })
}

/// Whether a place is none aboard.
fn is_ashore(place: Option<&str>) -> bool {
    let place = place.unwrap_or_default().to_lowercase();
    let mut words = place.split(|letter: char| !letter.is_alphabetic());
    words.any(|word| ASHORE.contains(&word))
}

/// A length that is there, rounded down to a centimetre.
fn metres_down(metres: f64) -> String {
    trimmed((metres * 100.0 + 1e-6).floor() / 100.0)
}

/// A length that is wanted, rounded up to a tenth of a metre.
fn metres_up(metres: f64) -> String {
    trimmed((metres * 10.0 - 1e-6).ceil() / 10.0)
}

fn trimmed(metres: f64) -> String {
    let text = format!("{metres:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} m")
}

/// Spares that this engine would want, and that the file does not say are aboard.
pub(super) fn unsaid(boat: &Boat) -> Vec<String> {
    let aboard = boat.stock.aboard.join("; ").to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| aboard.contains(word));
    let engine = boat.things.iter().find_map(|thing| thing.engine.as_ref());
    let belt = engine.is_some_and(|engine| {
        !engine.belt.is_left_out()
            || engine
                .extra
                .pump_drive
                .given()
                .is_some_and(|drive| drive.contains("belt"))
    });
    let raw_pump = boat
        .things
        .iter()
        .any(|thing| thing.kind.given() == Some(&ThingKind::RawWaterPump));
    [
        (belt, &["belt"][..], "belt"),
        (raw_pump, &["impeller"], "impeller of the raw-water pump"),
        (true, &["stat", "thermostat"], "thermostat with its gasket"),
        (true, &["cap"], "pressure cap"),
        (
            true,
            &["coolant", "mix", "antifreeze"],
            "coolant, ready mixed",
        ),
        (true, &["tape"], "self-fusing silicone tape"),
        (
            true,
            &["plug", "bung"],
            "soft plugs tied at the hull fittings",
        ),
    ]
    .into_iter()
    .filter(|(wanted, words, _)| *wanted && !says(words))
    .map(|(_, _, name)| name.to_owned())
    .collect()
}
