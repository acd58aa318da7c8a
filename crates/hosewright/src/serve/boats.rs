//! A boat to begin with: one of those that come with the program, or a new one by six asks.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::PathBuf;

use quantity::{At, Power, RotationalSpeed};
use serde::Deserialize;
use ts_rs::TS;

use super::App;
use super::refused::Refused;
use crate::api::{BoatAsk, BoatChoice, Boats, DemoBoat, NewsWhy};
use crate::fault::Fault;
use crate::files::{self, BOAT_FILE};

/// The boats that come with the program: key, name, what she is, her file.
const DEMOS: [(&str, &str, &str, &str); 3] = [
    (
        "dunlin",
        "Dunlin",
        "Steel motor cutter with keel pipes and a dry exhaust.",
        include_str!("../../../../boats/dunlin/boat.toml"),
    ),
    (
        "tansley",
        "Tansley",
        "Riveted steel tug in inches, with a skin tank in the swim.",
        include_str!("../../../../boats/tansley/boat.toml"),
    ),
    (
        "wenna",
        "Girl Wenna",
        "Potter of glass with a heat exchanger and a wet exhaust.",
        include_str!("../../../../boats/wenna/boat.toml"),
    ),
];
/// The scan that the first of them names, by the name that her file gives it.
const SCAN: (&str, &str, &[u8]) = (
    "dunlin",
    "bay.glb",
    include_bytes!("../../../../boats/dunlin/bay.glb"),
);
/// Longest answer.
const LONGEST: usize = 200;
/// Tries to find a folder that is not taken.
const FOLDERS: usize = 99;

/// How a boat is begun.
#[derive(Clone, Debug, Deserialize, TS)]
#[ts(optional_fields = nullable)]
pub struct BeginAsk {
    #[serde(default)]
    demo: Option<String>,
    #[serde(default)]
    answers: Option<BTreeMap<String, String>>,
}

/// What can be begun with.
pub(crate) fn boats() -> Boats {
    let demo = |(key, title, says, _): (&str, &str, &str, &str)| DemoBoat {
        key: key.to_owned(),
        title: title.to_owned(),
        says: says.to_owned(),
    };
    let ask = |key: &str, question: &str, choices: &[(&str, &str)], hint: &str| BoatAsk {
        key: key.to_owned(),
        question: question.to_owned(),
        choices: (!choices.is_empty()).then(|| {
            let choice = |(key, words): &(&str, &str)| BoatChoice {
                key: (*key).to_owned(),
                words: (*words).to_owned(),
            };
            choices.iter().map(choice).collect()
        }),
        hint: hint.to_owned(),
    };
    Boats {
        demos: DEMOS.into_iter().map(demo).collect(),
        asks: vec![
            ask(
                "name",
                "What is she called?",
                &[],
                "Her name, as on the stern.",
            ),
            ask(
                "heat",
                "Where does the heat go?",
                &[
                    ("keel", "pipes at the keel"),
                    ("skin", "a skin tank in the hull"),
                    ("exchanger", "a heat exchanger with raw water"),
                ],
                "What takes the heat out of the fresh water.",
            ),
            ask(
                "shares",
                "What shares the loop?",
                &[
                    ("gearbox", "an oil cooler of the gearbox"),
                    ("calorifier", "a calorifier"),
                    ("heater", "a cabin heater"),
                ],
                "Any of them, with commas between; nothing where the engine has the loop to itself.",
            ),
            ask(
                "hull",
                "What opens the hull?",
                &[
                    ("fittings", "a fitting with a valve at each opening"),
                    ("none", "nothing: the cooler is part of the hull"),
                ],
                "Through-hulls of the loop or of the raw water.",
            ),
            ask(
                "header",
                "Where is the header tank?",
                &[
                    ("apart", "apart, on a bulkhead"),
                    ("engine", "on the engine"),
                ],
                "The tank with the pressure cap.",
            ),
            ask(
                "power",
                "What does the engine give, and where was it read?",
                &[],
                "46 kW @ 2600 rpm plate; leave it empty where nobody has looked.",
            ),
        ],
    }
}

impl App {
    /// Begins a boat in a folder of her own and opens it.
    pub(crate) fn begin(&self, begin: &BeginAsk) -> Result<(), Refused> {
        let (key, text) = match (&begin.demo, &begin.answers) {
            (Some(demo), None) => DEMOS
                .iter()
                .find(|(key, ..)| key == demo)
                .map(|(key, _, _, text)| ((*key).to_owned(), (*text).to_owned()))
                .ok_or_else(|| Refused::missing("There is no such demo boat."))?,
            (None, Some(answers)) => {
                let name = answer(answers, "name")?;
                if name.is_empty() {
                    return Err(Refused::unfit("She wants a name: her folder is called so."));
                }
                (slug(name), new_boat(answers)?)
            }
            _ => return Err(Refused::unfit("Either a demo boat or six answers are due.")),
        };
        let path = self.fresh(&key, &text)?;
        let (of, name, scan) = SCAN;
        if begin.demo.as_deref() == Some(of) {
            // Where it can't be written she opens all the same, and says that the scan was not read.
            let beside = path.with_file_name(name);
            if let Err(fault) = files::place(&beside, scan, |_| false) {
                tracing::warn!(%fault, "the scan of the demo boat");
            }
        }
        self.desk().open(path)?;
        self.tell(NewsWhy::Outside);
        Ok(())
    }

    /// Writes a file into a new folder beside the boat that is open; nothing is ever overwritten.
    fn fresh(&self, key: &str, text: &str) -> Result<PathBuf, Refused> {
        for number in 1..=FOLDERS {
            let folder = match number {
                1 => key.to_owned(),
                number => format!("{key}-{number}"),
            };
            let folder = self.home.join(folder);
            // A folder that is there already is somebody's, even where it holds no boat file.
            if folder.symlink_metadata().is_ok() {
                continue;
            }
            let path = folder.join(BOAT_FILE);
            match files::create(&path, text) {
                Ok(()) => return Ok(path),
                Err(Fault::ThereAlready { .. }) => {}
                Err(fault) => return Err(fault.into()),
            }
        }
        Err(Refused::conflict(format!(
            "There are too many folders called {key} already."
        )))
    }
}

/// One of the answers; empty where none was given.
fn answer<'a>(answers: &'a BTreeMap<String, String>, key: &str) -> Result<&'a str, Refused> {
    let text = answers.get(key).map_or("", |text| text.trim());
    if text.len() > LONGEST || text.contains(char::is_control) {
        return Err(Refused::unfit(format!(
            "The answer to {key} is one line, and a short one."
        )));
    }
    Ok(text)
}

/// A name as a folder: small plain letters, digits and hyphens, so that it can lead nowhere else.
fn slug(name: &str) -> String {
    let plain = deunicode::deunicode(name).to_lowercase();
    let mut slug = String::new();
    for letter in plain.chars() {
        if letter.is_ascii_alphanumeric() {
            slug.push(letter);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
        if slug.len() >= 40 {
            break;
        }
    }
    match slug.trim_end_matches('-') {
        "" => "boat".to_owned(),
        slug => slug.to_owned(),
    }
}

/// The file of a new boat. It says what was answered and leaves out the rest.
fn new_boat(answers: &BTreeMap<String, String>) -> Result<String, Refused> {
    let choice =
        |key: &str, known: &[&str]| -> Result<String, Refused> {
            let text = answer(answers, key)?;
            match text {
                "" => Ok(known[0].to_owned()),
                text if known.contains(&text) => Ok(text.to_owned()),
                text => Err(Refused::unfit(format!("{text} is no answer to {key}."))
                    .expected(known.join(", "))),
            }
        };
    let name = answer(answers, "name")?;
    let heat = choice("heat", &["keel", "skin", "exchanger"])?;
    let fittings = choice("hull", &["fittings", "none"])? == "fittings";
    let apart = choice("header", &["apart", "engine"])? == "apart";
    let mut shares: Vec<&str> = Vec::new();
    for share in answer(answers, "shares")?.split([',', ' ', ';']) {
        match share {
            "" | "none" => {}
            "gearbox" | "calorifier" | "heater" => shares.push(share),
            other => {
                return Err(Refused::unfit(format!("{other} is no answer to shares."))
                    .expected("gearbox, calorifier, heater"));
            }
        }
    }
    let power = answer(answers, "power")?;
    if !matches!(power, "" | "?") {
        let read: Result<At<Power, RotationalSpeed>, _> = quantity::parse_at(power, None, None);
        if let Err(error) = read {
            return Err(
                Refused::unfit(format!("{}.", error.message)).expected("46 kW @ 2600 rpm plate")
            );
        }
    }
    let (gearbox, calorifier, heater) = (
        shares.contains(&"gearbox"),
        shares.contains(&"calorifier"),
        shares.contains(&"heater"),
    );
    let exchanger = heat == "exchanger";

    let mut file = String::new();
    let mut line = |text: &str| {
        file.push_str(text);
        file.push('\n');
    };
    line("# Begun by six answers. What is left out was not looked at yet.");
    line("# \"?\" = looked, can't know yet.  \"choose\" = the tool is to choose.");
    line("version = 1");
    line(
        "lengths = \"mm\"          # a bare number is millimetres; every other quantity carries its unit",
    );
    line("\n[boat]");
    line(&format!("name = {}", boat::quoted(name)));
    line("\n[engine]");
    if !power.is_empty() {
        line(&format!("power = {}", boat::quoted(power)));
    }
    let layout = match (apart, exchanger) {
        (true, true) => "header apart",
        (true, false) => "header apart, keel cooled",
        (false, _) => "header on the engine",
    };
    line(&format!("layout = \"{layout}\""));
    if !apart {
        line("header = {}");
    }
    line("spigots.out = {}");
    line("spigots.in = {}");
    if apart {
        line("spigots.feed = {}");
    }
    if calorifier || heater {
        line("spigots.heat-out = {}");
        line("spigots.heat-in = {}");
    }
    if exchanger {
        line("spigots.spray = {}       # raw water into the exhaust");
    }
    let mut thing = |key: &str, kind: &str, rest: &[&str]| {
        let _ = write!(file, "\n[things.{key}]\nkind = \"{kind}\"\n");
        for line in rest {
            file.push_str(line);
            file.push('\n');
        }
    };
    let (from_engine, to_engine) = match heat.as_str() {
        "exchanger" => {
            thing(
                "exchanger",
                "heat exchanger",
                &[
                    "paths = [\"a > shell > b\", \"raw-in > tubes > raw-out\"]",
                    "spigots.both = {}",
                    "spigots.raw-in = {}",
                    "spigots.raw-out = {}",
                ],
            );
            thing("rawpump", "raw-water pump", &["spigots.both = {}"]);
            if fittings {
                thing("sea-in", "hull fitting", &["spigots.tail = {}"]);
            }
            ("exchanger.a", "exchanger.b")
        }
        cooler => {
            let (key, kind) = match cooler {
                "skin" => ("skin", "skin tank"),
                _ => ("keel", "keel pipes"),
            };
            if fittings {
                let between = format!("between = [\"{key}-out\", \"{key}-back\"]");
                thing(key, kind, &[between.as_str()]);
                thing(
                    &format!("{key}-out"),
                    "hull fitting",
                    &["spigots.tail = {}"],
                );
                thing(
                    &format!("{key}-back"),
                    "hull fitting",
                    &["spigots.tail = {}"],
                );
            } else {
                thing(key, kind, &["spigots.both = {}"]);
            }
            match (cooler, fittings) {
                ("skin", true) => ("skin-out.tail", "skin-back.tail"),
                ("skin", false) => ("skin.a", "skin.b"),
                (_, true) => ("keel-out.tail", "keel-back.tail"),
                (_, false) => ("keel.a", "keel.b"),
            }
        }
    };
    if gearbox {
        thing("gearbox", "oil cooler", &["spigots.both = {}"]);
    }
    if apart {
        thing("header", "header tank", &["spigots.foot = {}"]);
    }
    if calorifier {
        thing("calorifier", "calorifier", &["spigots.both = {}"]);
    }
    if heater {
        thing("heater", "cabin heater", &["spigots.both = {}"]);
    }
    file.push_str("\n[runs]                  # in the direction of flow\n");
    let mut run = |key: &str, from: &str, to: &str, more: &str| {
        let _ = writeln!(
            file,
            "{key} = {{ from = \"{from}\", to = \"{to}\", {more}way = \"hose choose epdm\" }}"
        );
    };
    run("hot", "engine.out", from_engine, "");
    if gearbox {
        run("cold", to_engine, "gearbox.a", "");
        run("suck", "gearbox.b", "engine.in", "");
    } else {
        run("cold", to_engine, "engine.in", "");
    }
    if apart {
        run("feed", "header.foot", "engine.feed", "");
    }
    match (calorifier, heater) {
        (true, true) => {
            run("heat-out", "engine.heat-out", "calorifier.a", "");
            run("heat-on", "calorifier.b", "heater.a", "");
            run("heat-back", "heater.b", "engine.heat-in", "");
        }
        (true, false) => {
            run("heat-out", "engine.heat-out", "calorifier.a", "");
            run("heat-back", "calorifier.b", "engine.heat-in", "");
        }
        (false, true) => {
            run("heat-out", "engine.heat-out", "heater.a", "");
            run("heat-back", "heater.b", "engine.heat-in", "");
        }
        (false, false) => {}
    }
    if exchanger {
        let raw = "carries = \"raw water\", ";
        if fittings {
            run("draw", "sea-in.tail", "rawpump.a", raw);
        }
        run("push", "rawpump.b", "exchanger.raw-in", raw);
        run("spray", "exchanger.raw-out", "engine.spray", raw);
    }
    // Without the ways inside the engine there is no loop to draw: until they are typed, those of her layout stand in,
    // and are shown as assumed.
    file.push_str("\n[job]\nassume = [\"engine inside\"]   # the only places where a typical value may stand in; \"hose wall\" may be another\n");
    Ok(file)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_leads_into_a_folder_of_its_own_and_nowhere_else() {
        for (name, folder) in [
            ("Girl Wenna", "girl-wenna"),
            ("../../etc/passwd", "etc-passwd"),
            ("Zoë", "zoe"),
            ("...", "boat"),
            ("C:\\boats", "c-boats"),
        ] {
            assert_eq!(slug(name), folder);
        }
        assert!(slug(&"x".repeat(500)).len() <= 40);
    }

    #[test]
    fn every_new_boat_reads() {
        for heat in ["keel", "skin", "exchanger"] {
            for shares in [
                "",
                "gearbox",
                "gearbox, calorifier, heater",
                "heater",
                "calorifier",
            ] {
                for hull in ["fittings", "none"] {
                    for header in ["apart", "engine"] {
                        let answers: BTreeMap<String, String> = [
                            ("name", "Otter \"the\" 2nd"),
                            ("heat", heat),
                            ("shares", shares),
                            ("hull", hull),
                            ("header", header),
                            ("power", "46 kW @ 2600 rpm plate"),
                        ]
                        .map(|(key, text)| (key.to_owned(), text.to_owned()))
                        .into();
                        let text = new_boat(&answers).unwrap();
                        let (boat, _, remarks) = boat::read(&text);
                        assert!(remarks.is_empty(), "{text}\n{remarks:?}");
                        assert!(boat.runs.len() >= 2);
                        // She is drawn from the first: dashed, since no height is told.
                        let input = reckon::Input {
                            boat: &boat,
                            arrangement: None,
                            seed: 1,
                            set: reckon::Set::Prompt,
                            flow: None,
                            bay: None,
                        };
                        let answer = reckon::reckon(&input, &mut reckon::Memo::default());
                        let ask = reckon::StripAsk::default();
                        let strip = reckon::strip(&boat, None, &ask, &answer, None).unwrap();
                        assert_eq!((strip.closed, &strip.why), (true, &None), "{text}");
                        assert!(!strip.main.measured && strip.main.stations.len() >= 4);
                        assert!(
                            strip.main.pieces.iter().any(|piece| piece.assumed),
                            "{text}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn what_is_no_answer_is_refused() {
        let of = |key: &str, text: &str| {
            let answers = [("name", "Otter"), (key, text)];
            new_boat(
                &answers
                    .map(|(key, text)| (key.to_owned(), text.to_owned()))
                    .into(),
            )
        };
        assert!(of("heat", "sun").is_err());
        assert!(of("shares", "fridge").is_err());
        assert!(of("power", "46 horses").is_err());
        assert!(of("name", "a\nb").is_err());
        assert!(of("power", "").is_ok());
    }

    #[test]
    fn the_demo_boats_read() {
        for (key, title, _, text) in DEMOS {
            let (boat, _, remarks) = boat::read(text);
            let stops = remarks
                .iter()
                .filter(|remark| remark.severity == boat::Severity::Stop);
            assert_eq!(stops.count(), 0, "{key}");
            assert_eq!(boat.about.name.given().map(String::as_str), Some(title));
        }
    }
}
