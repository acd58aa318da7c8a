//! Keeping what was tried: as a state of its own, or in the state that it was tried on, by one step that can be taken
//! back.
//!
//! A state holds what its keys can hold. What a trial changes beyond that is told, never written in silence.

use boat::key_text;
use quantity::{System, Temperature};
use serde::Deserialize;
use ts_rs::TS;

use super::App;
use super::answers::meant;
use super::desk::{Edit, Sheet};
use super::label::fitted;
use super::refused::Refused;
use super::trial::TrialAsk;
use super::values::raw_at;
use crate::api::{Text, TrialKeep};
use crate::figure::Figure;
use crate::load::Loaded;

/// Two temperatures that are the same to an owner [K].
const SAME: f64 = 0.05;
/// Longest name of a state [characters].
const LONGEST: usize = 40;

/// What is to be kept.
#[derive(Clone, Debug, Deserialize, TS)]
#[ts(optional_fields = nullable)]
pub struct KeepAsk {
    /// The number of the change that the page shows.
    number: u64,
    /// The name of a new state; where there is none, the state that was tried takes the values.
    #[serde(default)]
    name: Option<String>,
    /// Whether the sea of the trial is written as the warmest that she meets.
    #[serde(default)]
    summer: bool,
    #[serde(flatten)]
    trial: TrialAsk,
}

/// What of a trial can be kept.
#[derive(Clone, Debug, Default)]
pub(crate) struct Kept {
    /// Keys of a state with their values as TOML.
    values: Vec<(&'static str, String)>,
    /// What no state can hold.
    left: Vec<Text>,
    /// The sea as the warmest that she meets, where only so it could be kept: what else that changes, and as TOML.
    summer: Option<(Text, String)>,
}

impl Kept {
    /// Of a trial.
    pub(crate) fn of(sheet: &Sheet, ask: &TrialAsk) -> Result<Self, Refused> {
        let mut kept = Self::default();
        if let Some((typed, sea)) = ask.sea()? {
            kept.sea(sheet, typed, sea);
        }
        if let Some(power) = ask.power(sheet)? {
            kept.values.push(("power", power));
        }
        if ask.fouling.is_some() {
            kept.left.push(alike(
                "What sits on the coolers is no key of a state: it is written at each cooler, as `fouling`, and holds in every state.",
            ));
        }
        Ok(kept)
    }

    /// The sea of a state is one of two that the boat meets.
    fn sea(&mut self, sheet: &Sheet, typed: &str, sea: Temperature) {
        let waters = &sheet.loaded.boat.about.sea;
        let is =
            |known: Option<f64>| known.is_some_and(|known| (known - sea.to_celsius()).abs() < SAME);
        let summer = waters.summer.given().map(|known| known.value.to_celsius());
        let winter = waters.winter.given().map(|known| known.value.to_celsius());
        if is(summer) {
            self.values.push(("sea", boat::quoted("summer")));
        } else if is(winter) {
            self.values.push(("sea", boat::quoted("winter")));
        } else {
            let text = |say: &dyn Fn(&str) -> String| {
                let warm = |system| Figure::Temperature.text(sea.to_celsius(), system);
                Text {
                    metric: say(&warm(System::Metric)),
                    imperial: say(&warm(System::Imperial)),
                }
            };
            self.left.push(text(&|warm| {
                format!("The sea of a state is that of her summer or her winter, as `boat.sea` has them: {warm} is neither.")
            }));
            let says = text(&|warm| {
                format!(
                    "Write {warm} as the warmest sea that she meets: every state in summer changes with it."
                )
            });
            self.summer = Some((says, boat::quoted(typed)));
        }
    }

    /// As the page is sent it.
    pub(crate) fn sent(&self) -> TrialKeep {
        let values = self.values.iter();
        TrialKeep {
            holds: values.map(|(key, to)| format!("{key} = {to}")).collect(),
            left: self.left.clone(),
            summer: self.summer.as_ref().map(|(says, _)| says.clone()),
        }
    }
}

/// A text without a figure in it.
fn alike(text: &str) -> Text {
    Text {
        metric: text.to_owned(),
        imperial: text.to_owned(),
    }
}

impl App {
    /// Writes what was tried, as one step.
    pub(crate) fn keep_trial(&self, ask: &KeepAsk) -> Result<(), Refused> {
        let sheet = self.desk().to_edit()?;
        if ask.number != sheet.number {
            // What the trial would write now may be another value than was shown.
            return Err(Refused::conflict(
                "Another change came in between: look at the trial again, then keep it.",
            ));
        }
        let _ = meant(&sheet, ask.trial.arrangement())?;
        let state = ask.trial.state(&sheet)?;
        let mut kept = Kept::of(&sheet, &ask.trial)?;
        let mut edits = Vec::new();
        if ask.summer
            && let Some((_, warm)) = kept.summer.take()
        {
            edits.push(Edit {
                place: "boat.sea.summer".to_owned(),
                to: warm,
            });
            kept.values.insert(0, ("sea", boat::quoted("summer")));
        }
        if kept.values.is_empty() {
            let why = match kept.left.first() {
                Some(left) => format!(
                    "Nothing of this trial can be kept in a state. {}",
                    left.metric
                ),
                None => "Nothing is tried.".to_owned(),
            };
            return Err(Refused::unfit(why));
        }
        let label = match ask
            .name
            .as_deref()
            .map(str::trim)
            .filter(|name| !name.is_empty())
        {
            Some(name) => {
                fresh(&sheet, name)?;
                edits.push(Edit {
                    place: format!("states.{}", key_text(name)),
                    to: table(&sheet.loaded, &state, &kept.values),
                });
                fitted(&format!("new state {name}"), "")
            }
            None => {
                let keys: Vec<&str> = kept.values.iter().map(|(key, _)| *key).collect();
                edits.extend(kept.values.iter().map(|(key, to)| Edit {
                    place: format!("states.{}.{key}", key_text(&state)),
                    to: to.clone(),
                }));
                fitted(&format!("state {state}: {}", keys.join(", ")), "")
            }
        };
        self.edit(ask.number, &label, &edits)
    }
}

/// Whether a state may have a name.
fn fresh(sheet: &Sheet, name: &str) -> Result<(), Refused> {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_');
    if !name.chars().all(plain) || name.len() > LONGEST {
        let would: String = name
            .chars()
            .map(|letter| if plain(letter) { letter } else { '-' })
            .take(LONGEST)
            .collect();
        return Err(Refused::unfit(format!(
            "A state's name has letters, digits, - and _, {LONGEST} at most."
        ))
        .found(name)
        .expected(would));
    }
    if sheet
        .loaded
        .boat
        .states
        .iter()
        .any(|state| state.key == name)
    {
        return Err(Refused::unfit(format!(
            "There is a state {name} already: give this one another name, or keep the trial in that state."
        )));
    }
    Ok(())
}

/// A state as TOML: what another has, with these values in place of its own.
fn table(loaded: &Loaded, state: &str, values: &[(&'static str, String)]) -> String {
    let base = format!("states.{}.", key_text(state));
    let places = loaded.chart.places();
    let mut own: Vec<(usize, &str, &str)> = places
        .paths()
        .filter_map(|path| {
            let key = path.strip_prefix(&base)?;
            let at = places.value_span(path)?.start;
            let raw = raw_at(loaded, path)?;
            // Only values: what lies in one of them comes with it.
            (!key.contains(['.', '['])).then_some((at, key, raw.trim()))
        })
        .collect();
    // As the owner wrote them.
    own.sort_unstable();
    let mut pairs: Vec<String> = own
        .iter()
        .map(|(_, key, raw)| {
            let new = values.iter().find(|(name, _)| name == key);
            let to = new.map_or(*raw, |(_, to)| to.as_str());
            format!("{key} = {to}")
        })
        .collect();
    pairs.extend(
        values
            .iter()
            .filter(|(name, _)| !own.iter().any(|(_, key, _)| key == name))
            .map(|(name, to)| format!("{name} = {to}")),
    );
    format!("{{ {} }}", pairs.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::{Hash, Held};

    fn loaded(text: &str) -> Loaded {
        Loaded::from_held(Held {
            path: "boat.toml".into(),
            hash: Hash::of(text.as_bytes()),
            text: text.to_owned(),
        })
    }

    #[test]
    fn a_new_state_has_all_of_the_old_one_but_what_was_tried() {
        let text = "version = 1\n[states]\ncruise = { rpm = \"1900 rpm\", speed = [\"6.5 kn\", \"6.7 kn\"], sea = \"winter\" } # as timed\n";
        let values = [
            ("sea", boat::quoted("summer")),
            ("power", boat::quoted("24.8 kW")),
        ];
        assert_eq!(
            table(&loaded(text), "cruise", &values),
            "{ rpm = \"1900 rpm\", speed = [\"6.5 kn\", \"6.7 kn\"], sea = \"summer\", power = \"24.8 kW\" }"
        );
        // The same of a state with a heading of its own.
        let text =
            "version = 1\n[states.cruise]\nspeed = \"6.5 kn\" # as timed\nrpm = \"1900 rpm\"\n";
        assert_eq!(
            table(&loaded(text), "cruise", &values[1..]),
            "{ speed = \"6.5 kn\", rpm = \"1900 rpm\", power = \"24.8 kW\" }"
        );
    }
}
