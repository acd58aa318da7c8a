//! How the water runs inside an engine: as typed, or by a layout that the owner lets stand in.

use boat::Thing;

use crate::verdict::Settles;

/// A way of building an engine's inside that is met often, by plain words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layout {
    /// The words by which it is known; any of them.
    pub words: &'static [&'static str],
    /// The ways of the water, as one would type them. Common practice, no source.
    pub paths: &'static [&'static str],
    /// Whether a header tank is part of it.
    pub header: bool,
}

/// The layouts that are known. One that is named by more words stands before the one it is made from.
pub static LAYOUTS: [Layout; 6] = [
    Layout {
        words: &["blanked for keel pipes"],
        paths: &[
            "in > pump > block > head > stat",
            "stat.hot > manifold > header > out",
            "stat.cold > bypass > pump",
            "header > pump",
            "head > heat-out",
            "heat-in > pump",
        ],
        header: true,
    },
    Layout {
        words: &["header, exchanger and manifold in one"],
        paths: &[
            "pump > block > head > stat",
            "stat.hot > manifold > header > exchanger > pump",
            "stat.cold > bypass > pump",
            "head > heat-out",
            "heat-in > pump",
            "raw-in > tubes > raw-out",
        ],
        header: true,
    },
    Layout {
        words: &["manifold on raw water"],
        paths: &[
            "in > pump > block > head > stat",
            "stat.hot > out",
            "stat.cold > bypass > pump",
            "head > heat-out",
            "heat-in > pump",
            "raw-in > manifold > raw-out",
        ],
        header: false,
    },
    Layout {
        words: &["two circuits"],
        paths: &[
            "in > pump > block > head > stat",
            "stat.hot > out",
            "stat.cold > bypass > pump",
            "head > heat-out",
            "heat-in > pump",
            "in2 > pump2 > aftercooler > out2",
        ],
        header: false,
    },
    Layout {
        words: &[
            "header on the engine",
            "header tank on the engine",
            "header tank on top of the engine",
        ],
        paths: &[
            "in > pump > block > head > stat",
            "stat.hot > out",
            "stat.cold > bypass > pump",
            "head > heat-out",
            "heat-in > pump",
            "vent > header > pump",
        ],
        header: true,
    },
    Layout {
        words: &["header apart", "header tank apart"],
        paths: &[
            "in > pump > block > head > stat",
            "stat.hot > out",
            "stat.cold > bypass > pump",
            "head > heat-out",
            "heat-in > pump",
        ],
        header: false,
    },
];

/// The layout that a text names, by one of its phrases as a whole: “no header tank on the engine” names none.
pub fn layout(text: &str) -> Option<&'static Layout> {
    let text = phrases(text);
    let names = |words: &str| {
        let words = phrases(words);
        text.windows(words.len()).any(|some| some == words)
    };
    LAYOUTS
        .iter()
        .find(|layout| layout.words.iter().any(|words| names(words)))
}

/// The phrases of a text between commas and semicolons, in small letters and with single spaces.
fn phrases(text: &str) -> Vec<String> {
    text.to_lowercase()
        .split([',', ';'])
        .map(|phrase| phrase.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

/// What is known of the ways inside a thing.
#[derive(Clone, Debug, PartialEq)]
pub enum Inside {
    /// As typed.
    Typed(Vec<Vec<String>>),
    /// By a layout that may stand in.
    Assumed(&'static Layout, Vec<Vec<String>>),
    /// Nothing is typed, and what would settle it.
    Missing(Missing),
    /// A thing through which the water runs one way, so that nothing needs typing.
    Through,
}

/// Why the inside of an engine is not known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// In one sentence.
    pub why: String,
    /// What to type.
    pub settles: Settles,
}

impl Inside {
    /// The ways, from station to station.
    pub fn paths(&self) -> &[Vec<String>] {
        match self {
            Self::Typed(paths) | Self::Assumed(_, paths) => paths,
            Self::Missing(_) | Self::Through => &[],
        }
    }
}

/// The inside of a thing. What is typed wins over the layout; the layout stands in only where the file
/// lets it.
pub fn of(thing: &Thing, place: &str, assume: bool) -> Inside {
    let typed = thing
        .engine
        .iter()
        .flat_map(|engine| &engine.paths)
        .chain(&thing.detail.paths);
    let typed: Vec<Vec<String>> = typed.map(|path| path.stations.clone()).collect();
    if !typed.is_empty() {
        return Inside::Typed(typed);
    }
    let Some(engine) = &thing.engine else {
        return Inside::Through;
    };
    let settles = |how: &str| Settles {
        place: format!("{place}.paths"),
        how: how.into(),
    };
    let named = engine.layout.given().map(|text| (text, layout(text)));
    match named {
        Some((_, Some(layout))) if assume => {
            let paths = layout.paths.iter().map(|path| stations(path)).collect();
            Inside::Assumed(layout, paths)
        }
        Some((text, Some(_))) => Inside::Missing(Missing {
            why: format!(
                "How the water runs inside {} is not typed, and its layout “{text}” may not stand in.",
                thing.key
            ),
            settles: settles(
                "Type the ways of the water as `paths`, or add “engine inside” to `assume` in `[job]`.",
            ),
        }),
        Some((text, None)) => Inside::Missing(Missing {
            why: format!(
                "How the water runs inside {} is not typed, and “{text}” is no layout that is known.",
                thing.key
            ),
            settles: settles(
                "Type the ways of the water: `paths = [\"in > pump > block > head > stat\", \"stat.hot > out\", \"stat.cold > bypass > pump\"]`.",
            ),
        }),
        None => Inside::Missing(Missing {
            why: format!(
                "How the water runs inside {} is not typed: neither `paths` nor `layout` stands there.",
                thing.key
            ),
            settles: settles(
                "Type the ways of the water: `paths = [\"in > pump > block > head > stat\", \"stat.hot > out\", \"stat.cold > bypass > pump\"]`.",
            ),
        }),
    }
}

fn stations(path: &str) -> Vec<String> {
    path.split('>').map(|name| name.trim().to_owned()).collect()
}

/// What the file says of the by-pass of a thermostat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bypass {
    /// Shut by the thermostat as it opens.
    ShutByStat,
    /// Always open.
    AlwaysOpen,
    /// Nothing runs through it.
    Blocked,
}

/// Reads the first clause of a text about the by-pass; `None` where it says something else. “Open
/// question” and “none found yet” say nothing of it.
pub fn bypass(text: &str) -> Option<Bypass> {
    let text = text.trim().to_lowercase();
    let clause = text.split([',', ';', '.', '(']).next().unwrap_or("").trim();
    if clause.starts_with("shut by") {
        Some(Bypass::ShutByStat)
    } else if clause.starts_with("always open") || clause == "open" {
        Some(Bypass::AlwaysOpen)
    } else if [
        "capped",
        "capped off",
        "blocked",
        "plugged",
        "blanked",
        "blanked off",
        "none",
    ]
    .contains(&clause)
    {
        Some(Bypass::Blocked)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_whole_clause_tells_of_the_by_pass() {
        assert_eq!(
            bypass("shut by the stat's own disc"),
            Some(Bypass::ShutByStat)
        );
        assert_eq!(
            bypass("Always open, a 10 mm hole"),
            Some(Bypass::AlwaysOpen)
        );
        assert_eq!(bypass("capped, with a bung"), Some(Bypass::Blocked));
        for vague in ["open question", "none found yet", "somebody capped it?"] {
            assert_eq!(bypass(vague), None, "{vague}");
        }
    }

    #[test]
    fn a_layout_is_known_by_its_words() {
        let check = |text: &str, first: Option<&str>| {
            assert_eq!(layout(text).map(|layout| layout.words[0]), first, "{text}");
        };
        check(
            "pump in front, header tank apart, keel cooled",
            Some("header apart"),
        );
        check(
            "Header, exchanger and manifold in one",
            Some("header, exchanger and manifold in one"),
        );
        check(
            "header, exchanger and manifold in one, blanked for keel pipes",
            Some("blanked for keel pipes"),
        );
        check("a big one", None);
        check("no header tank on the engine", None);
        check("pump in front; not header apart", None);
        check("pump in front; Header  apart", Some("header apart"));
    }

    #[test]
    fn a_by_pass_is_read_by_how_the_text_begins() {
        assert_eq!(
            bypass("shut by the stat's own disc"),
            Some(Bypass::ShutByStat)
        );
        assert_eq!(
            bypass("Always open, a 10 mm hole"),
            Some(Bypass::AlwaysOpen)
        );
        assert_eq!(bypass("capped off"), Some(Bypass::Blocked));
        assert_eq!(bypass("a hose somewhere"), None);
    }
}
