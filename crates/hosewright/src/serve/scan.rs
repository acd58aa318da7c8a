//! A scan that is dropped on the page: looked at, laid in by matching points, and kept with the boat.

use bay::Vec3;
use bay::scan::{Raw, Scale, Unit, Wish, lay, ready};
use bay::solid::Behind;
use quantity::{Length, Quantity as _, System, show};

use super::App;
use super::desk::Edit;
use super::refused::Refused;
use crate::api::{LayAsk, ScanLaid, ScanLook, ScanResidual};
use crate::scan::RawScan;
use crate::{files, scan};

/// Points that are sent for a first look.
const PREVIEW: usize = 10_000;

/// A scan that waits to be laid in.
#[derive(Debug)]
pub(crate) struct Waiting {
    name: String,
    bytes: Vec<u8>,
    raw: RawScan,
}

/// A name that can stand in the boat's folder.
fn plain(name: &str) -> Result<String, Refused> {
    let fits = !name.is_empty()
        && name.len() <= 80
        && !name.starts_with('.')
        && name
            .chars()
            .all(|letter| letter.is_alphanumeric() || " ._-".contains(letter));
    if fits {
        return Ok(name.to_owned());
    }
    Err(Refused::unfit(
        "The file's name must be of letters, figures, dots and dashes.",
    ))
}

fn mm(metres: f64) -> String {
    show(
        Length::from_si(metres).unwrap_or(Length::mm(0.0)),
        Some(Length::mm(1.0)),
        System::Metric,
    )
}

impl App {
    /// Reads a scan and says what it is.
    pub(crate) fn scan_look(&self, name: &str, bytes: Vec<u8>) -> Result<ScanLook, Refused> {
        let name = plain(name)?;
        let raw = scan::read_bytes(&name, &bytes, &|_| None)
            .map_err(|fault| Refused::unfit(fault.to_string()))?;
        let points = raw.points.len();
        let mut low = [f64::INFINITY; 3];
        let mut high = [f64::NEG_INFINITY; 3];
        for point in &raw.points {
            for ((low, high), along) in low.iter_mut().zip(&mut high).zip(point) {
                *low = low.min(*along);
                *high = high.max(*along);
            }
        }
        let mut size = [0.0; 3];
        for ((size, low), high) in size.iter_mut().zip(low).zip(high) {
            *size = (high - low).max(0.0);
        }
        let mut says = Vec::new();
        let units = raw.unit.map(|unit| format!("{unit} m"));
        if units.is_none() {
            says.push(
                "Files of this format tell no unit: say which, or give one length that you know."
                    .to_owned(),
            );
        }
        // Specks and seams hang on the size of things; where the unit is not known they are told once it is.
        let (mut specks, mut open_edges) = (0, 0);
        if let Some(unit) = raw.unit {
            let looked = ready(
                &as_raw(&raw),
                &Wish::usual(Unit::Metres(unit), Behind::Solid),
            )
            .map_err(|why| Refused::unfit(why.to_string()))?;
            specks = looked.specks.parts;
            open_edges = looked.seams.open;
            if specks > 0 {
                says.push(format!(
                    "{specks} parts smaller than 20 mm are left out as specks."
                ));
            }
            if let Some(thinned) = &looked.thinned {
                says.push(format!(
                    "{} triangles are thinned to {}, which moves its surface by {} at most.",
                    thinned.before,
                    thinned.after,
                    mm(thinned.error)
                ));
            }
        }
        if open_edges > 0 {
            says.push(
                "It is open: what lies behind it where nobody looked is taken as solid, unless you say otherwise."
                    .to_owned(),
            );
        }
        let step = points.div_ceil(PREVIEW).max(1);
        let look = ScanLook {
            name: name.clone(),
            triangles: raw.triangles.len() as u64,
            points: points as u64,
            units,
            size,
            specks: specks as u64,
            open_edges: open_edges as u64,
            says,
            preview: raw.points.iter().step_by(step).flatten().copied().collect(),
        };
        let waiting = Waiting { name, bytes, raw };
        *self.waiting() = Some(waiting);
        Ok(look)
    }

    /// Lays the scan that waits in by its points, and keeps it where that is asked.
    pub(crate) fn scan_lay(&self, ask: &LayAsk) -> Result<ScanLaid, Refused> {
        let mut slot = self.waiting();
        let waiting = slot
            .as_ref()
            .filter(|waiting| waiting.name == ask.name)
            .ok_or_else(|| Refused::missing("That scan is not here any more: drop it again."))?;
        let unit = match (&ask.known, ask.metres_per_unit.or(waiting.raw.unit)) {
            (Some(known), _) => Unit::Length {
                from: Vec3::from_array(known.a),
                to: Vec3::from_array(known.b),
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
            rms: String::new(),
            fault: Some(why),
            kept: false,
        };
        let metres = match unit.metres() {
            Ok(metres) => metres,
            Err(why) => return Ok(fault(why.to_string())),
        };
        let pairs: Vec<(Vec3, Vec3)> = ask
            .pairs
            .iter()
            .map(|pair| {
                (
                    Vec3::from_array(pair.scan) * metres,
                    Vec3::from_array(pair.bay),
                )
            })
            .collect();
        let found = match lay(&pairs, Scale::Kept) {
            Ok(found) => found,
            Err(why) => return Ok(fault(why.to_string())),
        };
        let mut laid = ScanLaid {
            residuals: ask
                .pairs
                .iter()
                .zip(&found.residuals)
                .map(|(pair, off)| ScanResidual {
                    name: pair.name.clone(),
                    text: mm(*off),
                })
                .collect(),
            rms: mm(found.rms),
            fault: None,
            kept: false,
        };
        if ask.keep {
            self.scan_keep(waiting, ask, unit)?;
            laid.kept = true;
            *slot = None;
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
        let numbers = |at: [f64; 3]| {
            let [x, y, z] = at;
            format!("[{x}, {y}, {z}]")
        };
        let metres = |metres: f64| boat::quoted(&format!("{metres} m"));
        let mut table = format!("{{ file = {}", boat::quoted(&waiting.name));
        match unit {
            Unit::Length {
                from,
                to,
                metres: length,
            } => {
                table.push_str(&format!(
                    ", known = {{ from = {}, to = {}, length = {} }}",
                    numbers(from.to_array()),
                    numbers(to.to_array()),
                    metres(length)
                ));
            }
            Unit::Metres(unit) => {
                let word = [
                    ("m", 1.0),
                    ("cm", 0.01),
                    ("mm", 0.001),
                    ("in", 0.0254),
                    ("ft", 0.3048),
                ]
                .into_iter()
                .find(|(_, size)| (size - unit).abs() < 1e-9)
                .ok_or_else(|| {
                    Refused::unfit(
                        "Metres, centimetres, millimetres, inches and feet are known as units.",
                    )
                })?;
                table.push_str(&format!(", unit = {}", boat::quoted(word.0)));
            }
        }
        table.push_str(&format!(
            ", behind = {}, points = [",
            boat::quoted(ask.behind.word())
        ));
        for (at, pair) in ask.pairs.iter().enumerate() {
            let gap = if at == 0 { "" } else { ", " };
            let [x, y, z] = pair.bay;
            table.push_str(&format!(
                "{gap}{{ scan = {}, is = [{}, {}, {}] }}",
                numbers(pair.scan),
                metres(x),
                metres(y),
                metres(z)
            ));
        }
        table.push_str("] }");
        let edit = Edit {
            place: "bay.scan".into(),
            to: table,
        };
        self.edit(number, "the scan is laid in", &[edit])
    }
}

fn as_raw(raw: &RawScan) -> Raw {
    Raw {
        corners: raw.points.iter().map(|at| Vec3::from_array(*at)).collect(),
        triangles: raw.triangles.clone(),
    }
}
