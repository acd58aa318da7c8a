//! The words that stand for choices: one list for reading, for printing, for the schema and for
//! the nearest word to a slip of the pen.

use crate::model::{
    Assume, BayFrame, BayNature, Behind, Berth, Breathing, Carries, ChainKind, ClipWord, Decided,
    Direction, Facing, Fouling, Found, Governs, HoseBuild, HullKind, HullStuff, Lies, Magnet,
    Manifold, Metal, PipeForm, PricePer, RadiusTo, Renewal, ScanUnit, Sex, SpigotForm, StatControl,
    Streams, ThingKind,
};

/// The words of one choice: what they choose, and for each its names, the printed one first.
#[derive(Clone, Copy, Debug)]
pub struct WordList {
    /// What is chosen, without article: `metal`.
    pub what: &'static str,
    /// The names of each, the printed one first.
    pub rows: &'static [&'static [&'static str]],
}

impl WordList {
    /// The printed word of each.
    pub fn printed(&self) -> impl Iterator<Item = &'static str> + use<> {
        self.rows.iter().filter_map(|names| names.first().copied())
    }

    /// The row that has this word; case, and hyphens for spaces, do not count.
    pub fn find(&self, text: &str) -> Option<usize> {
        let text = text.trim();
        self.rows.iter().position(|names| {
            names
                .iter()
                .any(|name| match_word(name, text) == Some(text.len()))
        })
    }

    /// The longest word with which a text begins: its row, and how many bytes it took.
    pub fn find_prefix(&self, text: &str) -> Option<(usize, usize)> {
        let rows = self.rows.iter().enumerate();
        let hits = rows.flat_map(|(row, names)| names.iter().map(move |name| (row, *name)));
        hits.filter_map(|(row, name)| Some((row, match_word(name, text)?)))
            .max_by_key(|(_, length)| *length)
    }
}

/// A choice that is written as a word.
pub trait Word: Copy + Sized + 'static {
    /// Its words.
    const LIST: &'static WordList;
    /// All choices, in the order of the words.
    const CHOICES: &'static [Self];

    /// The choice that has this word.
    fn from_word(text: &str) -> Option<Self> {
        Self::LIST
            .find(text)
            .and_then(|row| Self::CHOICES.get(row).copied())
    }
}

/// How many bytes at the start of `text` are the word `name`, which must end there. A space or
/// hyphen in the name stands for any run of spaces and hyphens.
pub(crate) fn match_word(name: &str, text: &str) -> Option<usize> {
    let gap = |c: char| c.is_whitespace() || c == '-' || c == '_';
    let mut rest = text;
    let name = name.chars();
    for due in name {
        if gap(due) {
            let trimmed = rest.trim_start_matches(gap);
            if trimmed.len() == rest.len() {
                return None;
            }
            rest = trimmed;
            continue;
        }
        let mut chars = rest.chars();
        let found = chars.next()?;
        let alike = due.eq_ignore_ascii_case(&found)
            || !(due.is_ascii() && found.is_ascii()) && due.to_lowercase().eq(found.to_lowercase());
        if !alike {
            return None;
        }
        rest = chars.as_str();
    }
    let ends = rest
        .chars()
        .next()
        .is_none_or(|c| !(c.is_alphanumeric() || c == '_'));
    ends.then(|| text.len() - rest.len())
}

/// The nearest of some names to one that was typed, if any is near enough to have been meant.
pub(crate) fn nearest<'a>(
    typed: &str,
    names: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let typed = typed.trim().to_lowercase();
    let length = typed.chars().count();
    if length == 0 || length > 60 {
        return None;
    }
    let near = |name: &'a str| {
        let lower = name.to_lowercase();
        let distance = strsim::damerau_levenshtein(&typed, &lower);
        let longer = length.max(lower.chars().count());
        // Of short names almost any is near almost any: one slip in three letters is allowed.
        let slips = (longer / 3).max(1);
        let shares_start = length.min(lower.chars().count()) >= 3
            && (lower.starts_with(&typed) || typed.starts_with(&lower));
        ((distance <= slips && distance < longer) || shares_start).then_some((distance, name))
    };
    names
        .into_iter()
        .filter_map(near)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Words in a row: `a, b or c`.
pub(crate) fn listed<'a>(words: impl IntoIterator<Item = &'a str>, last: &str) -> String {
    let words: Vec<&str> = words.into_iter().collect();
    match words.as_slice() {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [most @ .., end] => format!("{} {last} {end}", most.join(", ")),
    }
}

macro_rules! words {
    ($(#[$meta:meta])* $what:literal $type:ident { $($variant:ident: $word:literal $(| $also:literal)*),+ $(,)? }) => {
        impl $type {
            /// The word for it in a boat file.
            #[allow(dead_code, unreachable_pub)] // Choices that only the reading knows need no printing.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }
        impl Word for $type {
            const LIST: &'static WordList = &WordList { what: $what, rows: &[$(&[$word $(, $also)*]),+] };
            const CHOICES: &'static [Self] = &[$(Self::$variant),+];
        }
    };
}

words!("kind of hull" HullKind {
    MotorOneHull: "motor, one hull",
    MotorTwoHulls: "motor, two hulls",
    SailOneHull: "sail, one hull",
    SailTwoHulls: "sail, two hulls",
});
words!("stuff of a hull" HullStuff {
    Steel: "steel",
    Aluminium: "aluminium" | "aluminum",
    Glass: "glass" | "glass fibre" | "GRP",
    Wood: "wood",
    Cement: "cement",
});
words!("rule" Governs {
    TwoClips: "two clips below the waterline",
    NoSpringClips: "no spring clips",
});
words!("berth" Berth { Afloat: "afloat", Ashore: "ashore" });
words!("kind of thing" ThingKind {
    Engine: "engine",
    OilCooler: "oil cooler",
    KeelPipes: "keel pipes" | "keel cooler" | "grid cooler",
    SkinTank: "skin tank" | "skin cooler",
    Exchanger: "heat exchanger",
    HullFitting: "hull fitting",
    Calorifier: "calorifier",
    CabinHeater: "cabin heater",
    HeaderTank: "header tank",
    Strainer: "strainer",
    SiphonBreak: "siphon break" | "vented loop" | "anti-siphon valve",
    InjectionElbow: "injection elbow",
    RawWaterPump: "raw-water pump",
    CirculatingPump: "circulating pump",
    Bleed: "bleed",
    Drain: "drain",
});
words!("form of spigot" SpigotForm { Plain: "plain", Beaded: "beaded", Barbed: "barbed" });
words!("metal" Metal {
    CastIron: "cast iron",
    Steel: "steel" | "mild steel",
    GalvanisedSteel: "galvanised steel" | "galvanized steel" | "galvanised",
    Stainless304: "304" | "stainless 304" | "A2",
    Stainless316: "316" | "stainless 316" | "A4" | "316L",
    Stainless: "stainless" | "stainless steel",
    Aluminium: "aluminium" | "aluminum",
    Copper: "copper",
    CuproNickel: "cupro-nickel" | "cupronickel" | "copper-nickel",
    Brass: "brass",
    Dzr: "DZR" | "DZR brass",
    Gunmetal: "gunmetal" | "gun metal",
    Bronze: "bronze",
    AluminiumBronze: "aluminium bronze" | "aluminum bronze",
    ManganeseBronze: "manganese bronze",
    Titanium: "titanium",
    Plastic: "plastic",
});
words!("sex" Sex { Male: "male" | "M", Female: "female" | "F" });
words!("part of a screwed stack" ChainKind {
    Stub: "stub",
    BallValve: "ball valve",
    ConeValve: "cone valve",
    GateValve: "gate valve",
    Tail: "tail",
    Elbow: "elbow",
    Bush: "bush",
    Nipple: "nipple",
    Plug: "plug",
});
words!("what a run carries" Carries {
    Coolant: "coolant",
    RawWater: "raw water",
    Oil: "oil",
    DomesticWater: "domestic water",
    Vent: "vent",
});
words!("direction" Direction {
    Up: "up",
    Down: "down",
    Forward: "forward" | "fwd",
    Aft: "aft",
    Port: "port",
    Starboard: "starboard" | "stbd",
    Across: "across",
});
words!("build of hose" HoseBuild {
    Epdm: "epdm",
    Wired: "wired",
    Silicone: "silicone",
    PlainRubber: "plain rubber",
    PlainSilicone: "plain silicone",
});
words!("kind of clip" ClipWord {
    Worm: "worm" | "worm-drive",
    SingleEar: "single-ear" | "one-ear",
    TwoEar: "two-ear" | "double-ear",
    TBolt: "t-bolt",
    SpringBand: "spring" | "spring band",
});
words!("measure by which a thing is sold" PricePer {
    Piece: "piece",
    Metre: "m" | "metre" | "meter",
    Litre: "L" | "litre" | "liter",
});
words!("value to assume" Assume {
    HoseWall: "hose wall",
    HoseBuild: "hose build",
    BeadWidth: "bead width",
    BandWidth: "band width",
    BeadHeight: "bead height",
    PumpCurve: "pump curve",
    CoilBore: "coil bore",
    KeelWall: "keel wall",
    EngineInside: "engine inside",
    HeatShare: "heat share",
    EngineDrop: "engine drop",
    Stat: "stat",
    CoolerDrop: "cooler drop",
    Paint: "paint",
    Fouling: "fouling",
    CoolerPlace: "cooler place",
    PumpSpeed: "pump speed",
    HoseStiffness: "hose stiffness",
});
words!("way of breathing" Breathing {
    Turbo: "turbo" | "turbocharged",
    Natural: "natural" | "naturally aspirated",
});
words!("kind of exhaust manifold" Manifold { Wet: "wet" | "water-jacketed", Dry: "dry" });
words!("water that a thermostat feels" StatControl { Outlet: "outlet", Inlet: "inlet" });
words!("form of keel pipe" PipeForm {
    Round: "round",
    HalfRound: "half-round",
    Box: "box",
});
words!("place on the hull" Lies { Side: "side", Bottom: "bottom", Recess: "recess" });
words!("way in which x points" Facing {
    Forward: "forward" | "fwd",
    Aft: "aft",
    Port: "port",
    Starboard: "starboard" | "stbd",
});
words!("end of a radius" RadiusTo { Inside: "inside", Centre: "centre" | "center" });
words!("nature of a thing in the way" BayNature {
    Solid: "solid",
    Hot: "hot",
    Moving: "moving",
    Hull: "hull",
});
words!("part with which a thing moves" BayFrame { Hull: "hull", Engine: "engine" });
words!("unit of a scan" ScanUnit {
    Metre: "m" | "metre" | "metres" | "meter" | "meters",
    Centimetre: "cm",
    Millimetre: "mm",
    Inch: "in" | "inch" | "inches",
    Foot: "ft" | "foot" | "feet",
});
words!("room behind a scan" Behind { Solid: "solid", Free: "free" });
words!("state of a cooler's outside" Fouling {
    Clean: "clean",
    Slime: "slime",
    Silt: "silt" | "mud",
    Scale: "scale",
    Growth: "growth" | "weed" | "barnacles" | "mussels",
});
words!("way in which two streams run" Streams {
    Counter: "counter" | "counterflow" | "counter-flow",
    Parallel: "parallel",
    OneShell: "one shell pass" | "one shell",
    Cross: "cross" | "crossflow" | "cross-flow",
});
words!("state as found" Found {
    Good: "good" | "sound",
    SoftEnds: "soft ends" | "soft",
    Cracked: "cracked" | "split",
    Hard: "hard",
    Bulged: "bulged" | "swollen",
    Oval: "oval" | "sucked flat",
    Kinked: "kinked",
    Chafed: "chafed",
    Oily: "oily",
    Crusted: "crusted" | "crust",
});
words!("part that a magnet draws" Magnet { Nothing: "nothing", Screw: "screw", Band: "band", All: "all" });
words!("decision" Decided { Keep: "keep", Renew: "renew" });
words!("part to renew beside hose and clips" Renewal {
    Cap: "cap" | "pressure cap",
    Stat: "stat" | "thermostat",
    Belt: "belt",
});

/// How keel pipes are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Joined {
    Series,
    Parallel,
}
words!("way of joining" Joined { Series: "series", Parallel: "parallel" });

/// Which sea a state is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Season {
    Summer,
    Winter,
}
words!("season" Season { Summer: "summer", Winter: "winter" });

/// The unit of a bare length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BareLength {
    Millimetre,
    Centimetre,
    Inch,
}
words!("unit of bare lengths" BareLength { Millimetre: "mm", Centimetre: "cm", Inch: "in" });

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read_as_people_write_them() {
        let metal = Metal::from_word;
        assert_eq!(metal("Cast Iron"), Some(Metal::CastIron));
        assert_eq!(metal("cast-iron"), Some(Metal::CastIron));
        assert_eq!(metal("bronze"), Some(Metal::Bronze));
        assert_eq!(metal("bronzes"), None);
        assert_eq!(metal(""), None);
        assert_eq!(ClipWord::from_word("t bolt"), Some(ClipWord::TBolt));
        assert_eq!(
            Metal::LIST
                .find_prefix("manganese bronze bore 25")
                .map(|(_, length)| length),
            Some(16)
        );
    }

    #[test]
    fn a_word_prints_as_one_that_is_read() {
        fn check<T: Word + PartialEq + std::fmt::Debug>() {
            for (choice, word) in T::CHOICES.iter().zip(T::LIST.printed()) {
                assert_eq!(T::from_word(word).as_ref(), Some(choice), "{word}");
            }
        }
        check::<Metal>();
        check::<ThingKind>();
        check::<HullKind>();
        check::<HullStuff>();
        check::<Assume>();
        check::<Renewal>();
        check::<Found>();
        check::<Magnet>();
        check::<Decided>();
        check::<ClipWord>();
        check::<HoseBuild>();
        check::<Direction>();
        check::<Carries>();
        check::<ChainKind>();
        check::<Sex>();
        check::<Governs>();
        check::<Berth>();
        check::<SpigotForm>();
        check::<PricePer>();
        check::<Breathing>();
        check::<Manifold>();
        check::<StatControl>();
        check::<PipeForm>();
        check::<Lies>();
        check::<Fouling>();
        check::<Streams>();
        check::<Facing>();
        check::<RadiusTo>();
        check::<BayNature>();
        check::<BayFrame>();
        check::<ScanUnit>();
        check::<Behind>();
    }

    #[test]
    fn only_a_near_word_is_offered() {
        assert_eq!(nearest("bronz", Metal::LIST.printed()), Some("bronze"));
        assert_eq!(
            nearest("behind-bead", ["od", "bead", "behind_bead"]),
            Some("behind_bead")
        );
        assert_eq!(nearest("colour", ["od", "bead", "form", "metal"]), None);
        assert_eq!(nearest("x", ["od", "h"]), None);
    }
}
