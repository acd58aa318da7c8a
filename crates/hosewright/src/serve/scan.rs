//! A scan that is dropped on the page: looked at, pressed on, laid in by matching points, and kept with the boat.

use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use axum::body::Bytes;
use bay::Vec3;
use bay::scan::{Lay, NoLay, Raw, Scale, Unit, Wish, lay, ready};
use bay::solid::Behind;
use boat::SpotPart;
use quantity::{Length, Quantity as _, System, show};

use super::App;
use super::answers::{lock, meant};
use super::desk::Edit;
use super::refused::Refused;
use super::stages::Print;
use crate::api::{
    LayAsk, P3, ScanBehind, ScanLaid, ScanLook, ScanPair, ScanPoint, ScanRay, ScanResidual,
    ScanSpot,
};
use crate::scan::RawScan;
use crate::{files, scan};

/// Points that are sent for a first look.
const PREVIEW: usize = 10_000;

/// How long a scan waits that nobody touches.
pub(super) const WAITS: Duration = Duration::from_secs(30 * 60);

/// From which share on the lengths of a scan and of the boat are at odds: what phones do is 1 to 2 %. From memory.
const AT_ODDS: f64 = 0.03;

/// Units that a scan may have, as the boat file writes them, with how many metres each is.
const UNITS: [(&str, &str, f64); 5] = [
    ("m", "metre", 1.0),
    ("cm", "centimetre", 0.01),
    ("mm", "millimetre", 0.001),
    ("in", "inch", 0.0254),
    ("ft", "foot", 0.3048),
];

/// Room for one scan, and how many were begun to be read: of two, the later one stays.
#[derive(Debug, Default)]
pub(super) struct Slot {
    begun: u64,
    waiting: Option<Arc<Waiting>>,
}

/// A scan that waits to be laid in.
#[derive(Debug)]
struct Waiting {
    id: String,
    name: String,
    bytes: Bytes,
    raw: RawScan,
    /// When somebody touched it last.
    touched: Mutex<Instant>,
    /// What it is like with a unit, which takes a while to find.
    found: Mutex<Option<(f64, Result<Found, String>)>>,
}

/// What hangs on the size of things.
#[derive(Clone, Debug)]
struct Found {
    specks: usize,
    open: usize,
    thinned: Option<(usize, usize, f64)>,
}

impl Waiting {
    fn found(&self, metres: f64) -> Result<Found, String> {
        let mut known = lock(&self.found);
        if let Some((at, found)) = known.as_ref()
            && at.to_bits() == metres.to_bits()
        {
            return found.clone();
        }
        let raw = Raw {
            corners: self.raw.points.iter().map(|at| vector(*at)).collect(),
            triangles: self.raw.triangles.clone(),
        };
        let found = ready(&raw, &Wish::usual(Unit::Metres(metres), Behind::Solid))
            .map(|ready| Found {
                specks: ready.specks.parts,
                open: ready.seams.open,
                thinned: ready
                    .thinned
                    .map(|thinned| (thinned.before, thinned.after, thinned.error)),
            })
            .map_err(|why| sentence(&why.to_string()));
        *known = Some((metres, found.clone()));
        found
    }

    /// The largest side of the box around it, in its own numbers.
    fn size(&self) -> P3 {
        let mut low = [f64::INFINITY; 3];
        let mut high = [f64::NEG_INFINITY; 3];
        for point in &self.raw.points {
            for ((low, high), along) in low.iter_mut().zip(&mut high).zip(point) {
                *low = low.min(*along);
                *high = high.max(*along);
            }
        }
        let mut size = [0.0; 3];
        for ((size, low), high) in size.iter_mut().zip(low).zip(high) {
            *size = (high - low).max(0.0);
        }
        size
    }
}

impl Found {
    /// In words; `behind` where it was said what lies behind the faces.
    fn says(&self, behind: Option<ScanBehind>, system: System) -> Vec<String> {
        let mut says = Vec::new();
        let small = far(0.020, system);
        match self.specks {
            0 => {}
            1 => says.push(format!(
                "1 part smaller than {small} is left out as a speck."
            )),
            many => says.push(format!(
                "{many} parts smaller than {small} are left out as specks."
            )),
        }
        if let Some((before, after, error)) = self.thinned {
            says.push(format!(
                "{before} triangles are thinned to {after}, which moves its surface by {} at most.",
                far(error, system)
            ));
        }
        if self.open > 0 {
            says.push(
                match behind {
                    None => {
                        "It is open: what lies behind it where nobody looked is taken as solid, unless you say otherwise."
                    }
                    Some(ScanBehind::Solid) => {
                        "It is open: what lies behind it where nobody looked is taken as solid."
                    }
                    Some(ScanBehind::Free) => {
                        "It is open: what lies behind it where nobody looked is taken as free."
                    }
                }
                .to_owned(),
            );
        }
        says
    }
}

fn vector(at: P3) -> Vec3 {
    Vec3::from_array(at)
}

/// A length to whole millimetres, as a tape tells it.
fn far(metres: f64, system: System) -> String {
    // Adding 0 makes one of the two noughts.
    let whole = ((metres * 1e3).round() + 0.0) / 1e3;
    let whole = Length::from_si(whole).unwrap_or(Length::mm(0.0));
    show(whole, Some(Length::mm(2.0)), system)
}

/// A fault of a crate below as a sentence.
fn sentence(why: &str) -> String {
    let mut letters = why.chars();
    let first = letters.next().map(|letter| letter.to_uppercase());
    format!(
        "{}{}.",
        first.into_iter().flatten().collect::<String>(),
        letters.as_str()
    )
}

/// The name by which a file is kept beside the boat file: its own where that may stand there.
fn tidy(name: &str) -> Result<String, Refused> {
    let fits = |name: &str| name.len() <= 200 && !name.contains('/') && boat::is_scan_file(name);
    if fits(name) {
        return Ok(name.to_owned());
    }
    let plain = |letter: char| letter.is_alphanumeric() || " ._-()".contains(letter);
    let spelt: String = name
        .chars()
        .map(|letter| if plain(letter) { letter } else { '-' })
        .collect();
    let (stem, ending) = spelt.rsplit_once('.').unwrap_or((&spelt, ""));
    let stem: String = stem.trim_matches([' ', '.']).chars().take(50).collect();
    let stem = if stem.is_empty() { "scan" } else { stem.trim() };
    let spelt = format!("{stem}.{}", ending.trim());
    if fits(&spelt) {
        return Ok(spelt);
    }
    Err(Refused::unfit(format!(
        "“{name}” is no scan by its ending: glb, gltf, obj, ply and stl are read."
    )))
}

impl App {
    /// Reads a scan and says what it is.
    pub(crate) fn scan_look(
        &self,
        name: &str,
        bytes: Bytes,
        arrangement: Option<&str>,
        system: System,
    ) -> Result<ScanLook, Refused> {
        let begun = {
            let mut slot = lock(&self.scan);
            slot.begun += 1;
            slot.begun
        };
        let kept_as = tidy(name)?;
        let spots = self.scan_spots(arrangement, system)?;
        let raw = scan::read_bytes(&kept_as, &bytes, &|_| None)
            .map_err(|fault| Refused::unfit(fault.to_string()))?;
        let waiting = Waiting {
            id: files::Hash::of(&bytes).long(),
            name: kept_as,
            bytes,
            raw,
            touched: Mutex::new(Instant::now()),
            found: Mutex::default(),
        };
        let mut says = Vec::new();
        if waiting.name != name {
            says.push(format!("It is kept under the name {}.", waiting.name));
        }
        // Specks and seams hang on the size of things; where the unit is not known they are told once it is.
        match waiting.raw.unit {
            None => says.push(
                "Files of this format tell no unit: say which, or give one length that you know."
                    .to_owned(),
            ),
            Some(unit) => match waiting.found(unit) {
                Ok(found) => says.extend(found.says(None, system)),
                Err(why) => says.push(why),
            },
        }
        let step = waiting.raw.points.len().div_ceil(PREVIEW).max(1);
        let shown = waiting.raw.points.iter().step_by(step);
        let look = ScanLook {
            id: waiting.id.clone(),
            name: waiting.name.clone(),
            triangles: waiting.raw.triangles.len() as u64,
            points: waiting.raw.points.len() as u64,
            metres_per_unit: waiting.raw.unit,
            size: waiting.size(),
            says,
            spots: spots.into_iter().map(|(spot, _)| spot).collect(),
            preview: shown.flatten().copied().collect(),
        };
        let mut slot = lock(&self.scan);
        if slot.begun == begun {
            slot.waiting = Some(Arc::new(waiting));
        }
        Ok(look)
    }

    /// The pins and mouths whose places are known, in the bay [m].
    fn scan_spots(
        &self,
        arrangement: Option<&str>,
        system: System,
    ) -> Result<Vec<(ScanSpot, P3)>, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, arrangement)?;
        let answers = self.answers(&sheet, &arrangement);
        let answer = answers.answer();
        let spot = |name: &str, title: &str, at: P3| {
            let [x, y, z] = at.map(|along| far(along, system));
            let spot = ScanSpot {
                name: name.to_owned(),
                title: title.to_owned(),
                text: format!("x {x}, y {y}, z {z}"),
            };
            (spot, at)
        };
        // Before heights and sides are settled, the frame of the tapes is not that of the bay.
        let taped: Vec<&reckon::SpotPlace> = answer
            .surveyed
            .iter()
            .filter(|survey| survey.level && survey.settled)
            .flat_map(|survey| &survey.places)
            .filter(|place| place.standing == reckon::Standing::Settled)
            .collect();
        let pins = taped.iter().filter(|place| place.part.is_none());
        let mut spots: Vec<_> = pins
            .map(|pin| spot(&pin.name, &pin.title, pin.at))
            .collect();
        // A mouth that only an arrangement has can't be named for all of them.
        let boat = &sheet.loaded.boat;
        let aboard = |key: &str| {
            let (thing, spigot) = key.split_once('.').unwrap_or((key, ""));
            boat.thing(thing).is_some_and(|thing| {
                let spigots = &thing.spigots;
                spigots.iter().any(|known| known.name == spigot)
                    || (spigot.is_empty() && spigots.len() == 1)
            })
        };
        let mouths = answer.route.iter().flat_map(|route| &route.mouths);
        for (key, at, _) in mouths.filter(|(key, ..)| aboard(key)) {
            spots.push(spot(key, &key.replace('.', " "), *at));
        }
        for mouth in taped {
            let new = || spots.iter().all(|(spot, _)| spot.name != mouth.name);
            if mouth.part == Some(SpotPart::Mouth) && aboard(&mouth.name) && new() {
                spots.push(spot(&mouth.name, &mouth.title, mouth.at));
            }
        }
        Ok(spots)
    }

    /// The scan that is meant, where it still waits.
    fn scan_waiting(&self, id: &str) -> Result<Arc<Waiting>, Refused> {
        match &lock(&self.scan).waiting {
            Some(waiting) if waiting.id == id => {
                *lock(&waiting.touched) = Instant::now();
                Ok(Arc::clone(waiting))
            }
            Some(other) => Err(Refused::conflict(format!(
                "Another scan, {}, was dropped since: drop this one again.",
                other.name
            ))),
            None => Err(Refused::missing(
                "That scan is not here any more: drop it again.",
            )),
        }
    }

    /// Puts a scan away that is not wanted.
    pub(crate) fn scan_leave(&self, id: &str) {
        let mut slot = lock(&self.scan);
        if slot
            .waiting
            .as_ref()
            .is_some_and(|waiting| waiting.id == id)
        {
            slot.waiting = None;
        }
    }

    /// Puts a scan away that nobody touched for so long.
    pub fn scan_forget(&self, idle: Duration) {
        let mut slot = lock(&self.scan);
        let old = |waiting: &Arc<Waiting>| lock(&waiting.touched).elapsed() >= idle;
        if slot.waiting.as_ref().is_some_and(old) {
            slot.waiting = None;
        }
    }

    /// What of a scan was pressed.
    pub(crate) fn scan_point(&self, ray: &ScanRay) -> Result<ScanPoint, Refused> {
        let waiting = self.scan_waiting(&ray.id)?;
        let way = vector(ray.way).normalize_or_zero();
        let from = vector(ray.from);
        if way == Vec3::ZERO || !way.is_finite() || !from.is_finite() {
            return Err(Refused::unfit("A line wants a point and a direction."));
        }
        let size = waiting.size().into_iter().fold(0.0, f64::max);
        Ok(match pressed(&waiting.raw, from, way, ray.near) {
            None => ScanPoint {
                at: None,
                says: "Nothing of the scan is there: press on it.".into(),
            },
            Some(Pressed { at, is }) => ScanPoint {
                at: Some(at.to_array().map(|along| rounded(along, size))),
                says: match is {
                    Is::Corner => "a corner of its faces".into(),
                    Is::Face => "on one of its faces".into(),
                },
            },
        })
    }

    /// Lays the scan that waits in by its points, and keeps it where that is asked.
    pub(crate) fn scan_lay(&self, ask: &LayAsk, print: &Print) -> Result<ScanLaid, Refused> {
        let waiting = self.scan_waiting(&ask.id)?;
        let system: System = print.units.into();
        let spots = self.scan_spots(print.arrangement.as_deref(), system)?;
        let unit = match (&ask.known, ask.metres_per_unit.or(waiting.raw.unit)) {
            (Some(known), _) => Unit::Length {
                from: vector(known.a),
                to: vector(known.b),
                metres: known.length,
            },
            (None, Some(unit)) => Unit::Metres(unit),
            (None, None) => {
                return Err(Refused::unfit(
                    "Say the unit of its numbers, or one length that you know.",
                ));
            }
        };
        let fault = |why: String| ScanLaid {
            residuals: Vec::new(),
            says: Vec::new(),
            fault: Some(why),
            kept: false,
        };
        let metres = match unit.metres() {
            Ok(metres) => metres,
            Err(why) => return Ok(fault(sentence(&why.to_string()))),
        };
        let mut pairs: Vec<(Vec3, Vec3)> = Vec::new();
        for pair in &ask.pairs {
            let known = || spots.iter().find(|(spot, _)| spot.name == pair.name);
            let place = pair.bay.or_else(|| known().map(|(_, at)| *at));
            let place = place.ok_or_else(|| {
                Refused::conflict(format!(
                    "{} has no place in the boat any more: tape it, or take another.",
                    pair.name
                ))
            })?;
            pairs.push((vector(pair.scan) * metres, vector(place)));
        }
        let found = match lay(&pairs, Scale::Kept) {
            Ok(found) => found,
            Err(why) => return Ok(fault(not_laid(&why, &ask.pairs, system))),
        };
        let mut laid = ScanLaid {
            residuals: ask
                .pairs
                .iter()
                .zip(&found.residuals)
                .map(|(pair, off)| ScanResidual {
                    name: pair.name.clone(),
                    text: far(*off, system),
                })
                .collect(),
            says: vec![how_well(&found, &ask.pairs, system)],
            fault: None,
            kept: false,
        };
        laid.says.extend(in_doubt(&found, unit));
        if ask.keep {
            self.scan_keep(&waiting, ask, unit)?;
            self.scan_leave(&ask.id);
            laid.kept = true;
            return Ok(laid);
        }
        match waiting.found(metres) {
            Ok(found) => laid.says.extend(found.says(Some(ask.behind), system)),
            Err(why) => laid.fault = Some(why),
        }
        Ok(laid)
    }

    /// Puts the scan beside the boat file and writes how it lies.
    fn scan_keep(&self, waiting: &Waiting, ask: &LayAsk, unit: Unit) -> Result<(), Refused> {
        let (number, folder) = {
            let desk = self.desk();
            let path = desk
                .path
                .clone()
                .ok_or_else(|| Refused::missing("No boat is open."))?;
            let folder = path.parent().map(std::path::Path::to_path_buf);
            (desk.number, folder.unwrap_or_default())
        };
        let values = values(waiting, ask, unit)?;
        let place = folder.join(&waiting.name);
        let there = std::fs::read(&place).ok();
        if there.as_ref().is_some_and(|there| *there != waiting.bytes) {
            return Err(Refused::conflict(format!(
                "The boat's folder has another file called {}: give yours another name.",
                waiting.name
            )));
        }
        if there.is_none() {
            files::place(&place, &waiting.bytes, |_| false)
                .map_err(|fault| Refused::conflict(fault.to_string()))?;
        }
        let sheet = self.sheet()?;
        let edits = match &sheet.loaded.boat.bay.scan {
            None => {
                let values: Vec<String> = values
                    .into_iter()
                    .map(|(key, value)| format!("{key} = {value}"))
                    .collect();
                vec![Edit {
                    place: "bay.scan".into(),
                    to: format!("{{ {} }}", values.join(", ")),
                }]
            }
            Some(old) => {
                let same = old.file.given() == Some(&waiting.name);
                over(sheet.loaded.chart.places(), &values, same)
            }
        };
        self.edit(number, "the scan is laid in", &edits)
    }
}

/// The edits by which values come in place of those of another scan, key by key: its table may have a header and
/// comments of its own.
fn over(places: &boat::Places, values: &[(&str, String)], same: bool) -> Vec<Edit> {
    let edit = |key: &str, to: &str| Edit {
        place: format!("bay.scan.{key}"),
        to: to.to_owned(),
    };
    let stands = |key: &str| places.has(&format!("bay.scan.{key}"));
    let mut edits = Vec::new();
    // Either of two says how long its numbers are; how far another file was off says nothing of this one.
    for key in ["unit", "known", "error"] {
        if stands(key) && !(same && key == "error") {
            edits.push(edit(key, ""));
        }
    }
    edits.extend(values.iter().map(|(key, value)| edit(key, value)));
    edits
}

/// How a scan lies, as the boat file writes it.
fn values(
    waiting: &Waiting,
    ask: &LayAsk,
    unit: Unit,
) -> Result<Vec<(&'static str, String)>, Refused> {
    let numbers = |at: P3| {
        let [x, y, z] = at;
        format!("[{x}, {y}, {z}]")
    };
    // To the hundredth of a millimetre.
    let metres = |metres: f64| boat::quoted(&format!("{} m", (metres * 1e5).round() / 1e5));
    let size = match unit {
        Unit::Length {
            from,
            to,
            metres: length,
        } => {
            let (from, to) = (numbers(from.to_array()), numbers(to.to_array()));
            let length = metres(length);
            (
                "known",
                format!("{{ from = {from}, to = {to}, length = {length} }}"),
            )
        }
        Unit::Metres(unit) => {
            let word = UNITS
                .into_iter()
                .find(|(.., size)| (size - unit).abs() < 1e-9)
                .ok_or_else(|| {
                    Refused::unfit(
                        "Metres, centimetres, millimetres, inches and feet are known as units.",
                    )
                })?;
            ("unit", boat::quoted(word.0))
        }
    };
    let points = ask.pairs.iter().map(|pair| {
        let is = match pair.bay {
            Some([x, y, z]) => format!("[{}, {}, {}]", metres(x), metres(y), metres(z)),
            // By its name it follows what is taped anew.
            None => boat::quoted(&pair.name),
        };
        format!("{{ scan = {}, is = {is} }}", numbers(pair.scan))
    });
    let points: Vec<String> = points.collect();
    Ok(vec![
        ("file", boat::quoted(&waiting.name)),
        size,
        ("behind", boat::quoted(ask.behind.word())),
        ("points", format!("[{}]", points.join(", "))),
    ])
}

fn how_well(found: &Lay, pairs: &[ScanPair], system: System) -> String {
    let off = pairs.iter().zip(&found.residuals);
    let worst = off.max_by(|(_, one), (_, other)| one.total_cmp(other));
    let (name, most) = worst.map_or(("", 0.0), |(pair, off)| (pair.name.as_str(), *off));
    format!(
        "By its {} points it lies {} off in the mean; {name} is the farthest off, by {}.",
        pairs.len(),
        far(found.rms, system),
        far(most, system)
    )
}

/// Whether the lengths of the scan are at odds with those of the boat.
fn in_doubt(found: &Lay, unit: Unit) -> Option<String> {
    let best = found.best_scale;
    if !(best.is_finite() && best > 0.0 && (best - 1.0).abs() > AT_ODDS) {
        return None;
    }
    let digits = (1.0 - best.log10().floor()).clamp(0.0, 6.0) as usize;
    let by = format!("its lengths would fit best at {best:.digits$} times what they are");
    Some(match unit {
        Unit::Length { .. } => format!("The length that you know is in doubt: {by}."),
        Unit::Metres(metres) => {
            let near = |size: f64| (metres * best / size - 1.0).abs() < AT_ODDS;
            let other = UNITS.into_iter().find(|(.., size)| near(*size));
            let as_if = other.map_or_else(String::new, |(_, word, _)| {
                format!(", as if one of its numbers were one {word}")
            });
            format!("The unit is in doubt: {by}{as_if}.")
        }
    })
}

fn not_laid(why: &NoLay, pairs: &[ScanPair], system: System) -> String {
    match why {
        NoLay::TooFew(count) => format!("{count} points match: three at least are due."),
        NoLay::NotFinite(at) => format!(
            "A coordinate of {} is no number.",
            pairs.get(*at).map_or("a point", |pair| pair.name.as_str())
        ),
        NoLay::Collinear { off, long } => format!(
            "The points lie within {} of one line of {}, about which the scan could turn: take one well off it.",
            far(*off, system),
            far(*long, system)
        ),
        NoLay::Mirrored { rms, mirrored } => format!(
            "The points fit within {}, in a mirror within {}: two of them are changed over, or the scan is mirrored.",
            far(*rms, system),
            far(*mirrored, system)
        ),
    }
}

/// To a hundred-thousandth of the size of what it is in, or finer.
fn rounded(along: f64, size: f64) -> f64 {
    let step = 10_f64.powf(size.log10().floor() - 5.0);
    if step > 0.0 && step.is_finite() {
        (along / step).round() * step
    } else {
        along
    }
}

/// A point of a scan under a line of sight.
struct Pressed {
    at: Vec3,
    is: Is,
}

enum Is {
    Corner,
    Face,
}

/// What of a scan is nearest to the eye along a line: a point of a face, or a corner of it where one is as near as
/// that; where the line meets no face, the corner nearest to it.
fn pressed(raw: &RawScan, from: Vec3, way: Vec3, near: f64) -> Option<Pressed> {
    let corner = |name: u32| raw.points.get(name as usize).map(|at| vector(*at));
    let mut hit: Option<(f64, [Vec3; 3])> = None;
    let mut beside: Option<(f64, Vec3)> = None;
    for names in &raw.triangles {
        let [Some(a), Some(b), Some(c)] = names.map(corner) else {
            continue;
        };
        let square = (b - a).cross(c - a);
        let steep = square.dot(way);
        if steep != 0.0 {
            let along = square.dot(a - from) / steep;
            let at = from + way * along;
            // On a common edge it belongs to both.
            let least = -1e-9 * square.dot(square);
            let within = [(a, b), (b, c), (c, a)]
                .into_iter()
                .all(|(p, q)| (q - p).cross(at - p).dot(square) >= least);
            if within && hit.is_none_or(|(nearest, _)| along < nearest) {
                hit = Some((along, [a, b, c]));
            }
        }
        if hit.is_none() {
            for at in [a, b, c] {
                let off = (at - from).cross(way).length();
                if off <= near && beside.is_none_or(|(least, _)| off < least) {
                    beside = Some((off, at));
                }
            }
        }
    }
    let Some((along, corners)) = hit else {
        return beside.map(|(_, at)| Pressed { at, is: Is::Corner });
    };
    let at = from + way * along;
    let nearest = corners
        .into_iter()
        .min_by(|p, q| p.distance(at).total_cmp(&q.distance(at)));
    Some(match nearest.filter(|corner| corner.distance(at) <= near) {
        Some(at) => Pressed { at, is: Is::Corner },
        None => Pressed { at, is: Is::Face },
    })
}
