//! Regular expressions for the texts that have a grammar. Each accepts whatever the grammar does
//! and a little more: what is between the marks is left to the reading, which says what is wrong.

use quantity::{Instrument, Kind};

use crate::keys::Grammar;
use crate::model::{ChainKind, ClipWord, Direction, HoseBuild, Metal, Sex, SpigotForm};
use crate::words::{Word, WordList};

/// A name that the owner gives.
pub(super) const NAME: &str = "[\\p{L}\\p{M}\\p{N}_-]+";

/// A digit, or a fraction that has a character of its own.
const DIGIT: &str = "[0-9¼½¾⅓⅔⅛⅜⅝⅞]";

/// A length inside a text: from its first digit on, as short as the rest allows.
const LENGTH: &str = "[+]?[.,]?[0-9¼½¾⅓⅔⅛⅜⅝⅞](?:[^+,;]|,[0-9])*?";

/// A degree, with or without its sign or word.
const ANGLE: &str =
    "[^\\s,;>+]*[0-9¼½¾⅓⅔⅛⅜⅝⅞][^\\s,;>+]*(?:\\s*[dD][eE][gG](?:[rR][eE][eE][sS])?)?";

/// What every name of a unit of pressure has in it: bar, mbar, kPa, psi, lb/in², kg/cm², inHg.
const PRESSURE: &str = "(?:[bB][aA][rR]|[pP][aA]|[pP][sS][iI]|[lL][bB]|[kK][gGpP]|[hH][gG])";

/// Where a word ends.
const END: &str = "(?![\\p{L}\\p{N}_])";

/// The whole text, with any space around.
pub(super) fn whole(pattern: &str) -> String {
    format!("^\\s*(?:{pattern})\\s*$")
}

/// A word in any case; a gap in it is one or more spaces or hyphens.
fn word(name: &str) -> String {
    format!("{}{END}", spelt(name, "[\\s_-]+"))
}

fn spelt(name: &str, gap: &str) -> String {
    let mut pattern = String::new();
    for c in name.chars() {
        if c.is_alphabetic() {
            let (lower, upper) = (c.to_lowercase(), c.to_uppercase());
            pattern.push_str(&format!("[{lower}{upper}]"));
        } else if c.is_whitespace() || c == '-' || c == '_' {
            pattern.push_str(gap);
        } else if c.is_alphanumeric() || c == '\'' || c == ',' {
            pattern.push(c);
        } else {
            pattern.push('\\');
            pattern.push(c);
        }
    }
    pattern
}

/// Any word of a list, the longer ones first.
pub(super) fn any_word(list: &WordList) -> String {
    any(list.rows.iter().flat_map(|names| names.iter().copied()))
}

fn any(names: impl IntoIterator<Item = &'static str>) -> String {
    let mut names: Vec<&str> = names.into_iter().collect();
    names.sort_by_key(|name| std::cmp::Reverse(name.len()));
    let words: Vec<String> = names.into_iter().map(word).collect();
    format!("(?:{})", words.join("|"))
}

/// The name of an instrument.
pub(super) fn instruments() -> String {
    let names: Vec<String> = Instrument::ALL
        .into_iter()
        .flat_map(Instrument::names)
        .map(|name| spelt(name, "[\\s·._-]*"))
        .collect();
    whole(&names.join("|"))
}

/// A length, bare or with its unit, a tolerance and an instrument.
pub(super) fn length() -> String {
    whole(&format!("{}[^0-9¼½¾⅓⅔⅛⅜⅝⅞]{{0,40}}{DIGIT}.*", foreign()))
}

/// A length, bare or with its unit, and nothing else.
pub(super) fn plain_length() -> String {
    whole(&format!("(?!.*±){}[^±]*?{DIGIT}.*", foreign()))
}

/// A share from 0 to 100 %, bare or with its sign, a tolerance and an instrument.
pub(super) fn percent() -> String {
    let over = "(?!\\+?(?:10[1-9]|1[1-9][0-9]|[2-9][0-9]{2}|[1-9][0-9]{3,}))";
    whole(&format!("{over}[^0-9¼½¾⅓⅔⅛⅜⅝⅞]{{0,40}}{DIGIT}.*"))
}

/// No unit of another kind stands where a length is due.
fn foreign() -> String {
    let kinds = [
        Kind::GaugePressure,
        Kind::Power,
        Kind::VolumeFlow,
        Kind::RotationalSpeed,
        Kind::Speed,
        Kind::Volume,
        Kind::Mass,
    ];
    let units = kinds.into_iter().flat_map(|kind| kind.usual_units());
    format!("(?!.*(?:[°℃℉]|[^\\p{{L}}]{}))", any(units.copied()))
}

/// A number in quotes.
pub(super) fn plain_number() -> String {
    whole("[+-]?[0-9.]+(?:[eE][+-]?[0-9]+)?")
}

/// A quantity that needs its unit.
pub(super) fn quantity(kind: Kind, no_minus: bool) -> String {
    let start = if no_minus {
        "(?!\\s*[-−][\\s.]*[1-9])"
    } else {
        ""
    };
    format!("^{start}{}$", amount(kind))
}

/// One quantity at another: `46 kW @ 2600 rpm`.
pub(super) fn at(what: Kind, at: Kind) -> String {
    format!("^{}(?:@|\\s[aA][tT]\\s){}$", amount(what), amount(at))
}

fn amount(kind: Kind) -> String {
    let unit = match kind {
        Kind::Temperature => "[°℃℉CFKcfk]",
        Kind::Volume => "[LlMmCcGgQqPpIiFfDdUu]",
        Kind::GaugePressure | Kind::PressureDifference => PRESSURE,
        Kind::HeatPerKelvin => "(?:[/⁄∕]|[pP][eE][rR])",
        Kind::Power => "[KkWwHhPpBbSsCcMm]",
        Kind::VolumeFlow => "(?:[/⁄∕]|[pP][eE][rR]|[gGlL][pP][mMhH])",
        Kind::RotationalSpeed => "[RrTtMm/⁄∕]",
        Kind::Speed => "[KkMmFf]",
        Kind::Current => "[AaMm]",
        Kind::Voltage => "[VvMmKk]",
        _ => "",
    };
    format!("[^0-9¼½¾⅓⅔⅛⅜⅝⅞]{{0,40}}{DIGIT}.*{unit}.*")
}

/// The end of a run, or any name with a dot in it or none.
pub(super) fn end() -> String {
    whole(&format!("{NAME}\\s*(?:\\.\\s*{NAME})?"))
}

/// A place of a tape survey.
pub(super) fn spot() -> String {
    format!(
        "{NAME}(?:\\.{NAME})?(?:\\s+{})?",
        any(["dowel", "root", "mouth"])
    )
}

/// A direction of the bay, with tilts.
pub(super) fn heading() -> String {
    let named: Vec<_> = crate::grammar::headings()
        .map(|(direction, _)| direction)
        .collect();
    let rows = Direction::CHOICES.iter().zip(Direction::LIST.rows);
    let words = any(rows
        .filter(|(direction, _)| named.contains(direction))
        .flat_map(|(_, names)| names.iter().copied()));
    whole(&format!("{words}(?:\\s*{ANGLE}\\s*{words})*"))
}

/// A hose by its bore and build.
pub(super) fn hose_name() -> String {
    format!("{}(?:\\s*{})?", size(), any_word(HoseBuild::LIST))
}

/// The file of a scan, in the boat's own folder or below.
pub(super) fn scan_file() -> String {
    let part = "[^\\s./\\\\:*?\"<>|](?:[^/\\\\:*?\"<>|]*[^\\s/\\\\:*?\"<>|])?";
    let endings: Vec<String> = crate::grammar::SCAN_FILES
        .iter()
        .map(|ending| spelt(ending, ""))
        .collect();
    format!("^(?=.*\\.(?:{})$){part}(?:/{part})*$", endings.join("|"))
}

/// A size by name.
fn size() -> String {
    format!(
        "(?:[0-9]+[.,][0-9]+|(?:[0-9]+[ -]?)?[0-9]+/[0-9]+|[0-9]*[¼½¾⅓⅔⅛⅜⅝⅞]|[0-9]+)(?: *(?:{}|\"))?",
        any(["mm", "inches", "inch", "in"])
    )
}

fn size_or_choose() -> String {
    format!("(?:{}|{})", word("choose"), size())
}

/// What a fitting is made of, which may be left out.
fn stuff() -> String {
    format!(
        "(?:\\s*(?:{}\\s*{}|{}|{}))?",
        any(["moulded", "molded"]),
        any_word(HoseBuild::LIST),
        word("metal"),
        any_word(Metal::LIST)
    )
}

fn thread() -> String {
    let size = size();
    format!(
        "(?:(?:[nN][pP][sS][mM]|[nN][pP][tT]|[rR][cCpP]?|[gG])\\s*{size}|[mM]\\s*{size}(?:\\s*[xX×]\\s*{LENGTH})?|{size}\\s*{})",
        any(["NPSM", "NPT"])
    )
}

fn clip() -> String {
    let size = size();
    let ranged = [ClipWord::Worm, ClipWord::TwoEar, ClipWord::TBolt];
    let named = |wanted: &dyn Fn(&ClipWord) -> bool| {
        let rows = ClipWord::CHOICES.iter().zip(ClipWord::LIST.rows);
        any(rows
            .filter(|(choice, _)| wanted(choice))
            .flat_map(|(_, names)| names.iter().copied()))
    };
    format!(
        "(?:{}\\s*{size}\\s*(?:\\.\\.|[–—-]|{})\\s*{size}|{}\\s*{size})(?:\\s*(?:{}\\s*{LENGTH}|{}))*",
        named(&|clip| ranged.contains(clip)),
        word("to"),
        named(&|clip| !ranged.contains(clip)),
        word("band"),
        any_word(Metal::LIST),
    )
}

/// Where it lies, which may be left out.
const AT: &str = "(?: at .*\\S.*)?";

/// A text with a grammar of its own.
pub(super) fn grammar(grammar: Grammar) -> String {
    match grammar {
        Grammar::Way => way(),
        Grammar::Chain => chain(),
        Grammar::Bends => bends(),
        Grammar::Path => {
            let name = "\\p{L}[\\p{L}\\p{M}\\p{N}_-]*";
            let station = format!("{name}(?:\\.{name})?");
            whole(&format!("{station}(?:\\s*>\\s*{station})+"))
        }
        Grammar::Thread => whole(&format!("{}(?:\\s*{})?", thread(), any_word(Sex::LIST))),
        Grammar::Clip => whole(&clip()),
        Grammar::StockClip => whole(&format!("[0-9]+\\s*[xX×]\\s*{}{AT}", clip())),
        Grammar::StockHose => {
            let within = "(?:[^,]|,[0-9])*?";
            let rest = format!("{within}{DIGIT}{within}");
            whole(&format!(
                "{LENGTH}\\s*[xX×]\\s*{}(?:[\\s,]*(?:{}{rest}|{}{rest}{PRESSURE}{within}|{}))*[\\s,]*{AT}",
                size(),
                any(["id", "od", "Rmin"]),
                word("works"),
                any_word(HoseBuild::LIST),
            ))
        }
        Grammar::StockPart => whole(&format!(
            "[0-9]+\\s*[xX×]\\s*(?:{})(?:\\s*{LENGTH}\\s*{})?{AT}",
            fittings(&size()).join("|"),
            word("long")
        )),
        Grammar::Price => {
            let (amount, currency) = ("[0-9]+(?:[.,][0-9]+)?", "(?:[A-Z]{3}|[€£$])");
            whole(&format!("{amount}\\s*{currency}|{currency}\\s*{amount}"))
        }
        Grammar::Curve => {
            let within = "(?:[^,@]|,[0-9])*?";
            let point = format!("{within}{DIGIT}{within}[^0-9,@]{within}{DIGIT}{within}");
            let speed = format!("@{}", amount(Kind::RotationalSpeed));
            whole(&format!("{point}(?:,{point}){{2,}}(?:{speed})?"))
        }
        Grammar::Taper => whole(&format!("[^0-9]{{0,40}}{DIGIT}.* over .*{DIGIT}.*")),
        Grammar::End => end(),
        Grammar::Mark => "^[A-Z]{1,3}$".to_owned(),
        Grammar::Side => {
            let (two, three) = (
                any(["left", "right"]),
                any(["clockwise", "anticlockwise", "counterclockwise"]),
            );
            let of = format!("(?:\\s+{})?", word("of"));
            let spots = |count: usize| format!("(?:\\s+{}){{{count}}}", spot());
            whole(&format!(
                "(?:{two}{of}{}|{three}{of}{})",
                spots(2),
                spots(3)
            ))
        }
        Grammar::Aside => {
            let line = any([
                "on the centre line",
                "on the centreline",
                "on the center line",
                "on the centerline",
            ]);
            from_middle(
                &line,
                &any(["to starboard", "to port", "starboard", "port"]),
            )
        }
        Grammar::Along => {
            let sides = [
                "ahead of amidships",
                "forward of amidships",
                "abaft amidships",
                "aft of amidships",
            ];
            from_middle(&word("amidships"), &any(sides))
        }
    }
}

/// A distance with its side; what lies in the middle has a word of its own, or none but 0.
fn from_middle(middle: &str, sides: &str) -> String {
    let nought = "[^0-9¼½¾⅓⅔⅛⅜⅝⅞]{0,40}[0.,]*0[0.,]*(?![0-9.,¼½¾⅓⅔⅛⅜⅝⅞]).*";
    whole(&format!(
        "{middle}|{nought}|(?!\\s*[-−][\\s.]*[1-9])[^0-9¼½¾⅓⅔⅛⅜⅝⅞]{{0,40}}{DIGIT}.*\\s{sides}"
    ))
}

fn way() -> String {
    let hose = format!(
        "{}\\s*{}(?:\\s*{})?",
        word("hose"),
        size_or_choose(),
        any_word(HoseBuild::LIST)
    );
    let piece = format!(
        "(?:{hose}|{})(?:\\s*{LENGTH}\\s*{})?",
        fittings(&size_or_choose()).join("|"),
        word("long")
    );
    whole(&format!("(?:{piece})(?:\\s*\\+\\s*(?:{piece}))*"))
}

/// Each piece of a way but hose, of sizes that look so.
fn fittings(size: &str) -> [String; 7] {
    let stuff = stuff();
    let valve = format!(
        "(?:\\s*{})?\\s*{size}(?:\\s*{})?{stuff}",
        word("valve"),
        any(["full bore", "full"])
    );
    let bore = format!("(?:\\s*{}\\s*{LENGTH})?", word("bore"));
    [
        format!(
            "{}\\s*{ANGLE}\\s*{size}{stuff}(?:\\s*{}\\s*{LENGTH}\\s*[xX×]\\s*{LENGTH}|\\s*{}\\s*{LENGTH})*",
            word("elbow"),
            word("legs"),
            any(["radius", "bore"])
        ),
        format!("{}\\s*{size}\\s*>\\s*{size}{stuff}", word("reducer")),
        format!("{}\\s*{size}{stuff}{bore}", word("joiner")),
        format!(
            "{}{valve}(?:\\s*{}\\s*{LENGTH})*",
            any(["valve", "gate", "cone"]),
            any(["bore", "kv", "open"])
        ),
        format!(
            "{}{valve}(?:\\s*{}\\s*{LENGTH})*",
            word("check"),
            any(["bore", "kv"])
        ),
        format!("{}\\s*{size}{stuff}{bore}", word("pipe")),
        format!(
            "{}\\s*{size}\\s*[xX×]\\s*{size}\\s*[xX×]\\s*{size}{stuff}{bore}",
            word("tee")
        ),
    ]
}

fn chain() -> String {
    let threaded = format!("{}\\s*(?:{}\\s*)+", thread(), any_word(Sex::LIST));
    let names = |tail: bool| {
        let kinds = ChainKind::CHOICES.iter().zip(ChainKind::LIST.rows);
        any(kinds
            .filter(|(kind, _)| (**kind == ChainKind::Tail) == tail)
            .flat_map(|(_, names)| names.iter().copied()))
    };
    let part = format!(
        "(?:{}\\s*{threaded}[x×]\\s*{}\\s*{}\\s*|{}\\s*{threaded}(?:[x×]\\s*{threaded})*)(?:{}\\s*{LENGTH}\\s*|{}\\s*)*",
        names(true),
        size(),
        any_word(SpigotForm::LIST),
        names(false),
        any(["bore", "engaged", "open"]),
        any_word(Metal::LIST),
    );
    whole(&format!("{part}(?:\\s*\\+\\s*{part})*"))
}

fn bends() -> String {
    let bend = format!(
        "(?:{}\\s*,?\\s*{LENGTH}|{ANGLE})\\s*{}",
        word("S"),
        any_word(Direction::LIST)
    );
    whole(&format!("[nN][oO][nN][eE]|{bend}(?:\\s*,\\s*{bend})*"))
}
