//! The boxes of a survey: what the answer reads of this boat, and which of it nobody wrote down yet.

mod coolant;
mod of_loop;
mod ports;
mod seen;
mod shelf;
mod written;

use std::collections::BTreeSet;

use boat::keys::{Form, KeyRow, ROOT, TableRow};
use boat::{
    Arranged, Boat, Carries, JointNote, KeyPath, Metal, Piece, PieceKind, Places, Run, RunEnd,
    Size, Spigot, SpigotForm, Stuff, Thing, ThingKind, Told, joint_path, spigot_path,
};
use quantity::{Instrument, Length, NominalSize, Reading};
use reference::insertion::{usual_bead_height, usual_bead_width};

use crate::stages::circuit::{self, Joint, Male, metal_of};

use self::written::{Held, held, held_if};
pub use self::written::{HowWritten, Written};

/// Where one stands to fill a box in.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Station {
    /// The table of the file: `engine`, `things.header`, `runs.hot`.
    pub place: KeyPath,
    /// For people: `header, header tank`.
    pub title: String,
}

/// What is written into a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Entry {
    Length,
    Pressure,
    PressureAtTemperature,
    Temperature,
    Number,
    /// A word or a few.
    Text,
}

/// What a box holds now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Holds {
    /// A value that stands.
    Value,
    /// Nothing: not looked yet.
    Nothing,
    /// `"?"`: looked, could not tell.
    Unknown,
    /// Two readings that differ.
    TwoReadings,
}

impl Holds {
    fn of<T>(told: &Told<T>) -> Self {
        match told {
            Told::LeftOut => Self::Nothing,
            Told::Unknown => Self::Unknown,
            Told::Two(..) => Self::TwoReadings,
            Told::Given(_) | Told::Choose => Self::Value,
        }
    }
}

/// One box.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyBox {
    /// Where one stands.
    pub station: Station,
    /// Of what: `spigot out`; empty for what is of the whole station.
    pub part: String,
    /// Its name, as in the file: `od`.
    pub name: String,
    /// Where it goes in the file.
    pub place: KeyPath,
    /// What is written into it.
    pub entry: Entry,
    /// What it says, by the table of keys.
    pub says: String,
    /// With what it is measured where nothing else is said.
    pub instrument: Option<Instrument>,
    /// What it holds now.
    pub holds: Holds,
    /// That in words, where it holds something that can be said.
    pub written: Option<Written>,
    /// A value to try, as TOML; never to be shown as one of this boat.
    pub(crate) stand_in: Option<String>,
}

impl SurveyBox {
    /// Whether something is still to be written into it.
    pub fn is_empty(&self) -> bool {
        self.holds != Holds::Value
    }
}

/// The arrangement that is judged: the one named, else the one that the job is about.
pub(crate) fn arranged(boat: &Boat, arrangement: Option<&str>) -> Option<Arranged> {
    let has = |name: &&str| boat.arrangements.iter().any(|step| step.key == **name);
    let name = arrangement.or(Some("after")).filter(has);
    boat.arranged(name).or_else(|| boat.arranged(None))
}

/// An instrument as one asks for it.
pub fn instrument(with: Instrument) -> &'static str {
    match with {
        Instrument::Caliper => "a caliper",
        Instrument::Tape => "a tape",
        Instrument::Girth => "a string or tape round it",
        Instrument::WaterTube => "a water-filled tube",
        Instrument::Plate => "a look at its plate or stamp",
        Instrument::Maker => "the print or the maker's sheet",
        other => other.name(),
    }
}

/// Every box that the answer reads, filled or not, in the order of the file: the boat, her things, her
/// runs, the hose on the shelf.
pub fn boxes(boat: &Boat, places: &Places, arrangement: Option<&str>) -> Vec<SurveyBox> {
    let Some(arranged) = arranged(boat, arrangement) else {
        return Vec::new();
    };
    let mut form = Sheet {
        file: boat,
        places,
        arranged: &arranged,
        boxes: Vec::new(),
    };
    form.boat();
    let marks = circuit::marks(boat);
    let joints: Vec<(&Run, Vec<Joint>)> = arranged
        .boat
        .runs
        .iter()
        .map(|run| {
            let mark = marks.iter().find(|(key, _)| *key == run.key);
            let mark = mark.map_or("", |(_, mark)| mark.as_str());
            (run, circuit::joints(run, mark).0)
        })
        .collect();
    for thing in &arranged.boat.things {
        form.thing(thing, &joints);
    }
    for (run, joints) in &joints {
        let mark = marks.iter().find(|(key, _)| *key == run.key);
        form.run(run, mark.map_or("", |(_, mark)| mark.as_str()), joints);
    }
    form.arrangements();
    form.coolant();
    form.shelf();
    form.found();
    form.boxes
}

/// The form while it is being written.
struct Sheet<'a> {
    file: &'a Boat,
    places: &'a Places,
    arranged: &'a Arranged,
    boxes: Vec<SurveyBox>,
}

/// A value that surely does for a trial: `"38.1 mm"`.
fn trial(length: Length) -> String {
    format!("\"{:.2} mm\"", length.to_mm())
}

fn middle(low: Length, high: Length) -> Length {
    low + (high - low) / 2.0
}

impl Sheet<'_> {
    fn add(
        &mut self,
        station: &Station,
        (part, row): (&str, Option<&'static KeyRow>),
        place: KeyPath,
        held: impl Into<Held>,
        stand_in: Option<String>,
    ) {
        // A key that the table does not have can't be typed, so that there is no box for it.
        let Some(row) = row else { return };
        if self.boxes.iter().any(|known| known.place == place) {
            return;
        }
        let entry = match row.form {
            Form::Length | Form::LengthOrZero | Form::PlainLength | Form::Height => Entry::Length,
            Form::Quantity(quantity::Kind::GaugePressure, _) => Entry::Pressure,
            Form::Quantity(quantity::Kind::Temperature, _) => Entry::Temperature,
            Form::Number(..) | Form::Count | Form::Whole | Form::Percent => Entry::Number,
            _ => Entry::Text,
        };
        let held: Held = held.into();
        let height = matches!(row.form, Form::Height);
        let written = held.written(&place, height, row.instrument, &self.file.instruments);
        self.boxes.push(SurveyBox {
            station: station.clone(),
            part: part.to_owned(),
            name: row.name.to_owned(),
            place,
            entry,
            says: row.doc.to_owned(),
            instrument: row.instrument,
            holds: held.holds,
            written,
            stand_in,
        });
    }

    fn boat(&mut self) {
        let station = Station {
            place: "boat".into(),
            title: "boat".into(),
        };
        let about = &self.file.about;
        let (laden, salinity) = (held(&about.waterline.laden), held(&about.sea.salinity));
        self.add(
            &station,
            ("waterline", row(&["boat", "waterline", "laden"])),
            "boat.waterline.laden".into(),
            laden,
            Some("\"0 mm\"".into()),
        );
        self.add(
            &station,
            ("sea", row(&["boat", "sea", "salinity"])),
            "boat.sea.salinity".into(),
            salinity,
            Some("35".into()),
        );
    }

    fn thing(&mut self, thing: &Thing, joints: &[(&Run, Vec<Joint>)]) {
        let base = self.arranged.thing_place(&thing.key);
        let kind = thing.kind.given().map(|kind| kind.word());
        let station = Station {
            place: base.clone(),
            title: match kind {
                Some(kind) if kind != thing.key => format!("{}, {kind}", thing.key),
                _ => thing.key.clone(),
            },
        };
        let engine = thing.key == Thing::ENGINE;
        let of_thing = |key: &str| match engine {
            true => row(&["engine", key]),
            false => row(&["things", "x", key]),
        };
        if let Some(engine) = thing.engine.as_ref().filter(|_| engine) {
            self.add(
                &station,
                ("alarm", row(&["engine", "alarm", "at"])),
                format!("{base}.alarm.at"),
                held(&engine.alarm.at),
                Some("\"98 °C\"".into()),
            );
        }
        self.cap(thing, &station, &base, of_thing);
        self.loop_of(thing, &station, &base, joints);
        if thing.kind.given() == Some(&ThingKind::HullFitting) {
            self.chain(thing, &station, &base);
        }
        self.ports(thing, &station, &base);
        // Only a spigot that a hose goes over is judged.
        let mut used: BTreeSet<Option<&str>> = BTreeSet::new();
        let mut wanted: Vec<(Option<&str>, Option<NominalSize>)> = Vec::new();
        for (run, joints) in joints {
            for joint in joints {
                let Male::Spigot(RunEnd::Thing { thing: key, spigot }) = &joint.male else {
                    continue;
                };
                if *key == thing.key && used.insert(spigot.as_deref()) {
                    wanted.push((spigot.as_deref(), size_of_hose(run, joint)));
                }
            }
        }
        wanted.sort_by_key(|(name, _)| {
            thing
                .spigots
                .iter()
                .position(|spigot| Some(spigot.name.as_str()) == *name)
        });
        for (name, size) in wanted {
            let end = RunEnd::Thing {
                thing: thing.key.clone(),
                spigot: name.map(str::to_owned),
            };
            let nothing = Spigot::default();
            let (spigot, known) = match self.arranged.boat.spigot_at(&end) {
                Some((_, spigot)) => (spigot, spigot.name.as_str()),
                // A threaded port is nothing that a hose goes over.
                None if name.is_some_and(|name| thing.port(name).is_some()) => continue,
                None => (&nothing, name.unwrap_or("a")),
            };
            let place = if base == thing.path() {
                spigot_path(&thing.key, known)
            } else {
                format!("{base}.spigots.{}", boat::key_text(known))
            };
            let (place, part) = match typed_as_both(self.places, &place) {
                Some(both) => (both, "spigots a and b, alike".to_owned()),
                None => (place, format!("spigot {known}")),
            };
            let row_of = |key: &str| row(&["engine", "spigots", "x", key]);
            self.spigot(
                &station,
                &part,
                spigot,
                spigot.metal.given(),
                &place,
                size,
                row_of,
            );
            if spigot.height.is_left_out() && !thing.height.is_left_out() {
                self.add(
                    &station,
                    ("", of_thing("h")),
                    format!("{base}.h"),
                    held(&thing.height),
                    Some("\"0 mm\"".into()),
                );
            } else {
                self.add(
                    &station,
                    (&part, row_of("h")),
                    format!("{place}.h"),
                    held(&spigot.height),
                    Some("\"0 mm\"".into()),
                );
            }
        }
    }

    /// The cap that governs, and its seat; where the file tells of none, the engine is asked.
    fn cap(
        &mut self,
        thing: &Thing,
        station: &Station,
        base: &str,
        of_thing: impl Fn(&str) -> Option<&'static KeyRow>,
    ) {
        let cap = format!("{}.cap", thing.key);
        let blanked = self.arranged.blanked.contains(&cap);
        let things = &self.arranged.boat.things;
        let none = things.iter().all(|thing| thing.cap.is_left_out());
        let asked = none && thing.key == Thing::ENGINE;
        if blanked || (thing.cap.is_left_out() && !asked) {
            return;
        }
        self.add(
            station,
            ("", of_thing("cap")),
            format!("{base}.cap"),
            held(&thing.cap),
            Some("\"0.9 bar\"".into()),
        );
        self.add(
            station,
            ("", of_thing("cap_h")),
            format!("{base}.cap_h"),
            held(&thing.cap_height),
            Some("\"600 mm\"".into()),
        );
    }

    /// The screwed stack of a hull fitting: it waits until each part has its metal.
    fn chain(&mut self, thing: &Thing, station: &Station, base: &str) {
        let bare: Vec<&str> = thing
            .chain
            .iter()
            .filter(|part| part.metal.is_none())
            .map(|part| part.name.as_str())
            .collect();
        let part = if thing.chain.is_empty() || bare.is_empty() {
            String::new()
        } else {
            format!("metal of {}", bare.join(", "))
        };
        let whole = !thing.chain.is_empty() && bare.is_empty();
        let held: Held = if whole {
            let parts: Vec<String> = thing.chain.iter().map(boat::chain_part_text).collect();
            Held::said(&parts.join(" + "))
        } else {
            Holds::Nothing.into()
        };
        let row = row(&["things", "x", "chain"]);
        self.add(station, (&part, row), format!("{base}.chain"), held, None);
    }

    /// The sizes of a male end.
    #[allow(clippy::too_many_arguments)]
    fn spigot(
        &mut self,
        station: &Station,
        part: &str,
        spigot: &Spigot,
        metal: Option<&Metal>,
        place: &str,
        size: Option<NominalSize>,
        row_of: impl Fn(&str) -> Option<&'static KeyRow>,
    ) {
        let at = |key: &str| format!("{place}.{key}");
        let plain = spigot.form.given() == Some(&SpigotForm::Plain);
        let one = |told: &Told<Reading<Length>>| match told {
            Told::Given(reading) | Told::Two(reading, _) => Some(reading.value),
            _ => None,
        };
        let hidden = spigot.hidden.as_ref();
        let size = hidden.and_then(|hidden| hidden.print_bore).or(size);
        let od = one(&spigot.od).or_else(|| size.map(NominalSize::as_length));
        let usual = od.and_then(|od| {
            let height = usual_bead_height(od).ok()?.value;
            Some(od + middle(height.low, height.high))
        });
        let width = usual_bead_width().value;
        self.add(
            station,
            (part, row_of("od")),
            at("od"),
            held(&spigot.od),
            od.map(trial),
        );
        // What is hidden is measured through its hose until that comes off.
        if let Some(hidden) = hidden.filter(|_| spigot.od.given().is_none()) {
            let of_hidden = |key: &str| row(&["engine", "spigots", "x", "hidden", key]);
            for (key, holds) in [
                ("over_hose", held(&hidden.over_hose)),
                ("free_hose", held(&hidden.free_hose)),
                ("print", held(&hidden.print)),
            ] {
                let place = at(&format!("hidden.{key}"));
                self.add(station, (part, of_hidden(key)), place, holds, None);
            }
        }
        if !plain {
            self.add(
                station,
                (part, row_of("bead")),
                at("bead"),
                held(&spigot.bead),
                usual.map(trial),
            );
        }
        self.add(
            station,
            (part, row_of("behind_bead")),
            at("behind_bead"),
            held(&spigot.behind_bead),
            Some("\"40 mm\"".into()),
        );
        if !plain {
            self.add(
                station,
                (part, row_of("bead_width")),
                at("bead_width"),
                held(&spigot.bead_width),
                Some(trial(middle(width.low, width.high))),
            );
        }
        self.add(
            station,
            (part, row_of("form")),
            at("form"),
            held(&spigot.form),
            Some("\"beaded\"".into()),
        );
        let metal = match metal {
            Some(metal) => held_if(Some(metal)),
            None => held(&spigot.metal),
        };
        self.add(
            station,
            (part, row_of("metal")),
            at("metal"),
            metal,
            Some("\"bronze\"".into()),
        );
    }

    fn run(&mut self, run: &Run, mark: &str, joints: &[Joint]) {
        let way_place = self.arranged.run_place(&run.key);
        // What an arrangement adds has no table under `runs`; what it changes keeps the rest there.
        let base = match self.file.run(&run.key) {
            Some(_) => boat::run_path(&run.key),
            None => way_place.clone(),
        };
        let station = Station {
            place: base.clone(),
            title: format!("run {} ({mark})", run.key),
        };
        let of_run = |key: &str| row(&["runs", "x", key]);
        self.add(
            &station,
            ("", of_run("length")),
            format!("{base}.length"),
            held(&run.length),
            Some("\"900 mm\"".into()),
        );
        let (way, trial) = way_holds(run);
        self.add(
            &station,
            ("", of_run("way")),
            format!("{way_place}.way"),
            way,
            trial,
        );
        // Its own height is no key of a piece's end, so that the run's lowest and highest point serve.
        let on_pieces = joints
            .iter()
            .any(|joint| !matches!(joint.male, Male::Spigot(_)));
        let bounded = [
            ("high_at", &run.high_at, on_pieces),
            (
                "low_at",
                &run.low_at,
                on_pieces || matches!(run.carries, Carries::Coolant | Carries::Vent),
            ),
        ];
        for (key, told, read) in bounded {
            if read {
                let trial = Some("\"600 mm\"".into());
                self.add(
                    &station,
                    ("", of_run(key)),
                    format!("{base}.{key}"),
                    held(told),
                    trial,
                );
            }
        }
        for joint in joints {
            self.joint(run, joint, &station);
        }
    }

    fn joint(&mut self, run: &Run, joint: &Joint, station: &Station) {
        let place = joint_path(&joint.key);
        let note = self.arranged.boat.joints.iter();
        let note = note.clone().find(|note| note.joint == joint.key);
        let nothing = JointNote::default();
        let note = note.unwrap_or(&nothing);
        let part = format!("{} ({})", joint.key, joint.mark);
        let row_of = |key: &str| row(&["joints", "x", key]);
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        let male: Option<&PieceKind> = match &joint.male {
            Male::Spigot(_) => None,
            Male::Piece(at) => pieces.get(*at).map(|piece| &piece.kind),
            Male::Branch { run, piece } => self
                .arranged
                .boat
                .run(run)
                .and_then(|run| run.way.given())
                .and_then(|way| way.iter().find(|other| other.name == *piece))
                .map(|piece| &piece.kind),
        };
        if !matches!(joint.male, Male::Spigot(_)) {
            let own = male.and_then(metal_of);
            let metal = note.spigot.metal.given().or(own.as_ref());
            let size = size_of_hose(run, joint)
                .or_else(|| male.and_then(|kind| circuit::end_size(kind, joint)));
            // They say the same as those of a thing's spigot, in whose words they stand on the form.
            let of_spigot = |key: &str| row(&["engine", "spigots", "x", key]);
            self.spigot(station, &part, &note.spigot, metal, &place, size, of_spigot);
        }
        // These are decided or tried, not surveyed; only where somebody looked and could not tell
        // does a verdict wait.
        let lengths = [
            ("fitted_od", &note.fitted_od),
            ("hose_bore", &note.hose_bore),
            ("hose_over", &note.hose_over),
        ];
        for (key, told) in lengths {
            if !told.is_left_out() {
                let size = size_of_hose(run, joint).map(NominalSize::as_length);
                let more = Length::mm(if key == "hose_bore" { 0.0 } else { 9.0 });
                let trial = size.map(|size| trial(size + more));
                let place = format!("{place}.{key}");
                self.add(station, (&part, row_of(key)), place, held(told), trial);
            }
        }
        if !note.clip.is_left_out() {
            let trial = Some("\"choose\"".into());
            let holds = held(&note.clip);
            let place = format!("{place}.clip");
            self.add(station, (&part, row_of("clip")), place, holds, trial);
        }
    }
}

/// Where a value of a spigot is typed that the file tells of as `both`: there and nowhere else.
pub(crate) fn typed_as_both(places: &Places, place: &str) -> Option<KeyPath> {
    ["a", "b"].into_iter().find_map(|name| {
        let (thing, rest) = place.split_once(&format!(".spigots.{name}"))?;
        let both = format!("{thing}.spigots.both");
        let whole = rest.is_empty() || rest.starts_with('.');
        (whole && places.has(&both)).then(|| format!("{both}{rest}"))
    })
}

/// `hose 38 epdm`.
pub(crate) fn hose_name(size: NominalSize, build: Option<boat::HoseBuild>) -> String {
    let size = Size::Named(size);
    let hose = PieceKind::Hose { size, build };
    boat::piece_text(&hose)
}

/// Whether the way of a run says all, and a way that does.
fn way_holds(run: &Run) -> (Held, Option<String>) {
    let Told::Given(pieces) = &run.way else {
        return (held(&run.way), Some("\"choose\"".into()));
    };
    let whole: Vec<Piece> = pieces
        .iter()
        .cloned()
        .map(|mut piece| {
            match &mut piece.kind {
                PieceKind::Hose { build, .. } => {
                    build.get_or_insert(boat::HoseBuild::Epdm);
                }
                PieceKind::Elbow { stuff, .. }
                | PieceKind::Reducer { stuff, .. }
                | PieceKind::Joiner { stuff, .. }
                | PieceKind::Valve { stuff, .. }
                | PieceKind::Pipe { stuff, .. }
                | PieceKind::Tee { stuff, .. } => {
                    if *stuff == Stuff::SomeMetal {
                        *stuff = Stuff::Metal(Metal::Bronze);
                    }
                }
            }
            piece
        })
        .collect();
    let trial = (whole != *pieces).then(|| boat::quoted(&boat::way_text(&whole)));
    (held(&run.way), trial)
}

/// The size by name of the hose that goes over this end.
fn size_of_hose(run: &Run, joint: &Joint) -> Option<NominalSize> {
    let pieces = run.way.given()?;
    let size = match &pieces.get(joint.female?)?.kind {
        PieceKind::Hose { size, .. } | PieceKind::Elbow { size, .. } => *size,
        PieceKind::Reducer { from, to, .. } => {
            if joint.key.ends_with(".to") {
                *to
            } else {
                *from
            }
        }
        _ => return None,
    };
    size.named()
}

/// The row of the table of keys at the end of a way of keys; any word does for a name that the owner gives.
fn row(way: &[&str]) -> Option<&'static KeyRow> {
    let (last, way) = way.split_last()?;
    let mut table: &'static TableRow = &ROOT;
    for key in way {
        let form = match (table.key(key), &table.free) {
            (Some(row), _) => row.form,
            (None, Some(free)) => free.form,
            (None, None) => return None,
        };
        table = match form {
            Form::Table(row) => row,
            _ => return None,
        };
    }
    table.key(last)
}
