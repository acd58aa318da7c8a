//! The small words of a quantity's text: numbers as people type them, and names of units.

use std::ops::Range;
use std::sync::LazyLock;

use crate::unit::{Kind, SHARED, Shared, UNITS, Unit};

/// What is wrong, and which bytes are to blame; the reader adds the kind that was due.
#[derive(Debug)]
pub(crate) struct Fault {
    pub(crate) span: Range<usize>,
    pub(crate) message: String,
}

pub(crate) fn fault<T>(span: Range<usize>, message: impl Into<String>) -> Result<T, Fault> {
    Err(Fault {
        span,
        message: message.into(),
    })
}

/// A number as typed.
#[derive(Clone, Debug)]
pub(crate) struct Number {
    pub(crate) value: f64,
    pub(crate) span: Range<usize>,
    /// A sign of its own was typed.
    pub(crate) signed: bool,
    /// It was typed as a fraction or with one.
    pub(crate) fraction: bool,
}

pub(crate) fn is_space(c: char) -> bool {
    // The zero-width ones come with text copied from a page.
    c.is_whitespace() || matches!(c, '\u{200b}' | '\u{2060}' | '\u{feff}')
}

/// A hyphen or a minus: people type either for both.
pub(crate) fn is_minus(c: char) -> bool {
    matches!(c, '-' | '\u{2212}' | '\u{2010}' | '\u{2011}')
}

fn is_dash(c: char) -> bool {
    is_minus(c) || matches!(c, '\u{2012}' | '\u{2013}' | '\u{2014}')
}

pub(crate) fn char_at(text: &str, at: usize) -> Option<char> {
    text[at..].chars().next()
}

pub(crate) fn skip_space(text: &str, at: usize) -> usize {
    at + text[at..]
        .chars()
        .take_while(|&c| is_space(c))
        .map(char::len_utf8)
        .sum::<usize>()
}

fn digits(text: &str, at: usize) -> usize {
    at + text[at..].bytes().take_while(u8::is_ascii_digit).count()
}

fn is_digit_at(text: &str, at: usize) -> bool {
    text.as_bytes().get(at).is_some_and(u8::is_ascii_digit)
}

fn is_slash(c: char) -> bool {
    matches!(c, '/' | '\u{2044}' | '\u{2215}')
}

/// Over and under of the fractions that have a character of their own.
fn vulgar(c: char) -> Option<(f64, f64)> {
    Some(match c {
        '½' => (1.0, 2.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        _ => return None,
    })
}

/// `5/8`, `5 / 8` or `⅝` at `at`: its value and where it ends; `None` where none stands there.
fn fraction(text: &str, at: usize) -> Result<Option<(f64, usize)>, Fault> {
    if let Some(c) = char_at(text, at)
        && let Some((over, under)) = vulgar(c)
    {
        return Ok(Some((over / under, at + c.len_utf8())));
    }
    let over_end = digits(text, at);
    if over_end == at {
        return Ok(None);
    }
    let slash = skip_space(text, over_end);
    let Some(c) = char_at(text, slash).filter(|&c| is_slash(c)) else {
        return Ok(None);
    };
    let under_at = skip_space(text, slash + c.len_utf8());
    let end = digits(text, under_at);
    if end == under_at {
        return Ok(None);
    }
    let whole = |range: Range<usize>| text[range].parse::<u32>().ok().filter(|&n| n < 100_000);
    match (whole(at..over_end), whole(under_at..end)) {
        (Some(_), Some(0)) => fault(at..end, format!("{} divides by nothing", &text[at..end])),
        (Some(over), Some(under)) => Ok(Some((f64::from(over) / f64::from(under), end))),
        _ => fault(
            at..end,
            format!("{} is no fraction that a rule has", &text[at..end]),
        ),
    }
}

/// Reads a number at `at`, which may begin with space; `None` where none stands there.
pub(crate) fn number(text: &str, at: usize) -> Result<Option<Number>, Fault> {
    let begin = skip_space(text, at);
    let mut at = begin;
    let mut negative = false;
    let mut signed = false;
    if let Some(c) = char_at(text, at)
        && (is_dash(c) || c == '+')
    {
        signed = true;
        negative = c != '+';
        at = skip_space(text, at + c.len_utf8());
    }
    let leading_point = matches!(char_at(text, at), Some('.' | ',')) && is_digit_at(text, at + 1);
    if !(leading_point
        || is_digit_at(text, at)
        || char_at(text, at).is_some_and(|c| vulgar(c).is_some()))
    {
        return Ok(None);
    }
    let signed_value = |value: f64| if negative { -value } else { value };

    // A fraction alone: `5/8`.
    if let Some((value, end)) = fraction(text, at)? {
        return Ok(Some(Number {
            value: signed_value(value),
            span: begin..end,
            signed,
            fraction: true,
        }));
    }

    let (mut end, decimal, whole) = mantissa(text, at)?;
    if whole {
        // A mixed fraction: `1 5/8`, `1-5/8`, `1⅝`.
        let hyphen = char_at(text, end)
            .filter(|&c| is_minus(c))
            .map_or(0, char::len_utf8);
        let over = if hyphen > 0 {
            end + hyphen
        } else {
            skip_space(text, end)
        };
        let glued = over == end;
        let begins = !glued || char_at(text, over).is_some_and(|c| vulgar(c).is_some());
        if begins && let Some((value, stop)) = fraction(text, over)? {
            if value >= 1.0 {
                let written = &text[over..stop];
                return fault(
                    at..stop,
                    format!("{written} after a whole number is one or more"),
                );
            }
            let whole: f64 = decimal
                .parse()
                .expect("OK because digits only are a number");
            let value = signed_value(whole + value);
            return Ok(Some(Number {
                value,
                span: begin..stop,
                signed,
                fraction: true,
            }));
        }
    }

    let mut written = decimal;
    if matches!(char_at(text, end), Some('e' | 'E')) {
        let mut power = end + 1;
        let mut sign = "";
        if let Some(c) = char_at(text, power)
            && (is_minus(c) || c == '+')
        {
            sign = if c == '+' { "" } else { "-" };
            power += c.len_utf8();
        }
        let stop = digits(text, power);
        if stop > power {
            written = format!("{written}e{sign}{}", &text[power..stop]);
            end = stop;
        }
    }
    let value: f64 = written
        .parse()
        .expect("OK because digits, a point and an exponent are a number");
    if !value.is_finite() {
        return fault(begin..end, format!("{} is too large", &text[begin..end]));
    }
    Ok(Some(Number {
        value: signed_value(value),
        span: begin..end,
        signed,
        fraction: false,
    }))
}

/// Digits with points, commas and gaps: where they end, how a computer writes them, and whether they are whole.
fn mantissa(text: &str, at: usize) -> Result<(usize, String, bool), Fault> {
    let mut end = digits(text, at);
    let mut written = text[at..end].to_owned();
    // Gaps between thousands: `12 400`.
    if (1..=3).contains(&(end - at)) && !text[at..end].starts_with('0') {
        while let Some(c) = char_at(text, end)
            .filter(|&c| matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\u{2007}'))
        {
            let group = end + c.len_utf8();
            let stop = digits(text, group);
            let is_fraction = fraction(text, group).ok().flatten().is_some()
                || char_at(text, stop).is_some_and(is_slash);
            if stop - group != 3 || is_fraction {
                break;
            }
            written.push_str(&text[group..stop]);
            end = stop;
        }
    }
    let gapped = written.len() != end - at;

    let mut marks: Vec<char> = Vec::new();
    let mut groups: Vec<&str> = Vec::new();
    let whole_end = end;
    while let Some(mark @ ('.' | ',')) = char_at(text, end) {
        let stop = digits(text, end + 1);
        if stop == end + 1 {
            break;
        }
        marks.push(mark);
        groups.push(&text[end + 1..stop]);
        end = stop;
    }
    let shown = || text[at..end].to_owned();
    let (Some(&mark), Some(&last)) = (marks.last(), groups.last()) else {
        return Ok((whole_end, written, true));
    };
    let thousands = |groups: &[&str]| {
        !gapped && (1..=3).contains(&written.len()) && groups.iter().all(|group| group.len() == 3)
    };
    let one_kind = |marks: &[char]| marks.iter().all(|m| *m == marks[0]);
    let head = &groups[..groups.len() - 1];
    if marks.len() == 1 {
        // One comma and three digits may be either, and the two readings differ a thousandfold.
        if mark == ',' && last.len() == 3 && thousands(&groups) && !written.starts_with('0') {
            let (decimal, large) = (format!("{written}.{last}"), format!("{written}{last}"));
            return fault(
                at..end,
                format!("{} may be {decimal} or {large}: write one of them", shown()),
            );
        }
        let whole = if written.is_empty() { "0" } else { &written };
        return Ok((end, format!("{whole}.{last}"), false));
    }
    if one_kind(&marks) && thousands(&groups) {
        return Ok((end, format!("{written}{}", groups.concat()), true));
    }
    let marks_before = &marks[..marks.len() - 1];
    if one_kind(marks_before) && marks_before[0] != mark && thousands(head) {
        return Ok((end, format!("{written}{}.{last}", head.concat()), false));
    }
    fault(
        at..end,
        format!("{} has more than one decimal point", shown()),
    )
}

/// One spelling of a character for many: micro signs, superscripts, minutes and seconds of arc.
fn canonical(c: char) -> char {
    match c {
        // Nearly all that is typed.
        c if c.is_ascii() => c.to_ascii_lowercase(),
        'µ' | 'μ' => 'µ',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁻' | '\u{2212}' | '\u{2010}' | '\u{2011}' => '-',
        'º' | '˚' => '°',
        '″' | '”' | '“' | '„' | '＂' => '"',
        '′' | '’' | '‘' | '´' => '\'',
        '∶' => ':',
        c => c.to_lowercase().next().unwrap_or(c),
    }
}

fn is_joiner(c: char) -> bool {
    is_space(c) || matches!(c, '·' | '⋅' | '•' | '*' | '.' | '-' | '‑')
}

/// Whether `name` stands at the beginning of `text`, and how many bytes it takes.
///
/// A space or `·` in the name may be any joiner or nothing; `/` may be `per`. A name that ends in
/// a letter or digit ends at a word's end, so that `m` is not found in `mm`.
pub(crate) fn match_name(name: &str, text: &str) -> Option<usize> {
    // Most names differ in their first letter, and there are hundreds of names.
    if let (Some(known), Some(typed)) = (name.bytes().next(), text.bytes().next())
        && known.is_ascii_alphabetic()
        && typed.is_ascii()
        && !known.eq_ignore_ascii_case(&typed)
    {
        return None;
    }
    let mut at = 0;
    for (index, c) in name.chars().enumerate() {
        match c {
            ' ' | '·' => {
                while let Some(gap) = char_at(text, at).filter(|&c| is_joiner(c)) {
                    at += gap.len_utf8();
                }
            }
            '/' => {
                at = skip_space(text, at);
                let next = char_at(text, at)?;
                if is_slash(next) {
                    at = skip_space(text, at + next.len_utf8());
                } else if index > 0
                    && text
                        .get(at..at + 3)
                        .is_some_and(|word| word.eq_ignore_ascii_case("per"))
                {
                    let after = skip_space(text, at + 3);
                    if after == at + 3 {
                        return None;
                    }
                    at = after;
                } else {
                    return None;
                }
            }
            _ => {
                let mut next = char_at(text, at)?;
                if next == '^' && canonical(c).is_ascii_digit() {
                    at += 1;
                    next = char_at(text, at)?;
                }
                // A small m is milli and is never read as mega.
                let mega = index == 0 && c == 'M' && next != 'M';
                if mega || canonical(next) != canonical(c) {
                    return None;
                }
                at += next.len_utf8();
            }
        }
    }
    let word = name
        .chars()
        .next_back()
        .is_some_and(|c| canonical(c).is_alphanumeric());
    let goes_on = char_at(text, at).is_some_and(|c| {
        canonical(c).is_alphanumeric() || is_slash(c) || matches!(c, '^' | '_' | '·' | '⁻')
    });
    // `40 in..42 in` is an interval, not an `in.` and a `.42`.
    let dots = name.ends_with('.') && text[at..].starts_with('.');
    (!(dots || word && goes_on)).then_some(at)
}

/// What stands where a unit may stand.
pub(crate) enum Found {
    Due(&'static Unit, Range<usize>),
    Other(&'static Unit, Range<usize>),
    Shared(&'static Shared, Range<usize>),
    Nothing,
}

/// A name of a unit, and which of its names it is.
type Name = (&'static Unit, usize, &'static str);

/// The names of units that may stand at the beginning of a text, by its first letter, in the order of the table.
fn names_beginning_as(text: &str) -> &'static [Name] {
    /// By letter from `a`, after them for what is no letter, and last all.
    static NAMES: LazyLock<[Vec<Name>; 28]> = LazyLock::new(|| {
        let mut names = [const { Vec::new() }; 28];
        for unit in UNITS {
            for (index, name) in unit.names().enumerate() {
                let own = name.bytes().next().map_or(ANY, letter);
                for (at, list) in names.iter_mut().enumerate() {
                    if own >= OTHER || at == own || at == ANY {
                        list.push((unit, index, name));
                    }
                }
            }
        }
        names
    });
    const OTHER: usize = 26;
    const ANY: usize = 27;
    /// A letter that is none of ASCII may be read as one.
    fn letter(byte: u8) -> usize {
        match byte.to_ascii_lowercase() {
            small @ b'a'..=b'z' => usize::from(small - b'a'),
            0..=127 => OTHER,
            _ => ANY,
        }
    }
    &NAMES[text.bytes().next().map_or(ANY, letter)]
}

/// The longest name of a unit at `at`; of equally long ones that of the kinds that are due, in their order.
pub(crate) fn unit(text: &str, at: usize, due: &[Kind]) -> Found {
    let at = skip_space(text, at);
    let rest = &text[at..];
    let mut best: Option<(usize, usize, &'static Unit)> = None;
    for (unit, index, name) in names_beginning_as(rest) {
        let Some(length) = match_name(name, rest) else {
            continue;
        };
        // Of the kinds that are not due, the one that prints this name: `°` is an angle.
        let rank = due.iter().position(|kind| *kind == unit.kind);
        let rank = rank.unwrap_or(due.len() + (*index).min(1));
        if best.is_none_or(|(found, found_rank, _)| {
            length > found || (length == found && rank < found_rank)
        }) {
            best = Some((length, rank, *unit));
        }
    }
    let longest = best.map_or(0, |(length, ..)| length);
    for shared in SHARED {
        for length in shared
            .names
            .iter()
            .filter_map(|name| match_name(name, rest))
        {
            if length > longest {
                return Found::Shared(shared, at..at + length);
            }
        }
    }
    match best {
        Some((length, rank, unit)) if rank < due.len() => Found::Due(unit, at..at + length),
        Some((length, _, unit)) => Found::Other(unit, at..at + length),
        None => Found::Nothing,
    }
}

/// The printed name of the unit of that kind whose spelling is nearest to `word`, if one is near.
pub(crate) fn nearest_unit(word: &str, kind: Kind) -> Option<&'static str> {
    let typed: String = word.chars().map(canonical).collect();
    let first = typed.chars().next()?;
    UNITS
        .iter()
        .filter(|unit| unit.kind == kind)
        .flat_map(|unit| unit.names().map(move |name| (unit, name)))
        .filter_map(|(unit, name)| {
            let name: String = name.chars().map(canonical).collect();
            let distance = near(&typed, &name)?;
            // People hit the right first letter and the right number of letters more often than not.
            let length_off = name.chars().count().abs_diff(typed.chars().count());
            Some(((distance, !name.starts_with(first), length_off), unit.name))
        })
        .min_by_key(|(order, _)| *order)
        .map(|(_, name)| name)
}

/// How far two words are apart, if they are near enough that one may be meant for the other.
pub(crate) fn near(typed: &str, name: &str) -> Option<usize> {
    let longest = typed.chars().count().max(name.chars().count());
    let distance = strsim::osa_distance(typed, name);
    let allowed = match longest {
        0 | 1 => 0,
        2..=4 => 1,
        _ => 2,
    };
    (distance <= allowed).then_some(distance)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_name(name: &str, text: &str, length: Option<usize>) {
        assert_eq!(match_name(name, text), length, "{name} in {text}");
    }

    #[test]
    fn names_are_found_in_the_spellings_that_people_use() {
        check_name("mm", "mm caliper", Some(2));
        check_name("m", "mm", None);
        check_name("m", "m/s", None);
        check_name("mm²", "mm2", Some(3));
        check_name("mm²", "mm^2", Some(4));
        check_name("N m", "Nm", Some(2));
        check_name("N m", "N·m", Some(4));
        check_name("lbf·in", "lbf-in", Some(6));
        check_name("US gal/h", "usgal per h", Some(11));
        check_name("US gal/h", "US gal perh", None);
        check_name("MPa", "mPa", None);
        check_name("MPa", "MPA", Some(3));
        check_name("mbar", "MBAR", Some(4));
        check_name("\"", "″ tape", Some(3));
        check_name("in.", "in..42", None);
    }

    #[test]
    fn a_number_ends_where_it_ends() {
        let ends = |text: &str| {
            number(text, 0)
                .ok()
                .flatten()
                .map(|number| (number.value, number.span.end))
        };
        assert_eq!(ends("40..42"), Some((40.0, 2)));
        assert_eq!(ends("40-42"), Some((40.0, 2)));
        assert_eq!(ends("1-5/8 in"), Some((1.625, 5)));
        assert_eq!(ends("2600 1/min"), Some((2600.0, 4)));
        assert_eq!(ends("12 400 mm"), Some((12_400.0, 6)));
        assert_eq!(ends("12 4000 mm"), Some((12.0, 2)));
        assert_eq!(ends("5e mm"), Some((5.0, 1)));
        assert_eq!(ends("0 400"), Some((0.0, 1)));
        assert_eq!(ends("mm"), None);
    }

    #[test]
    fn the_nearest_unit_begins_alike() {
        assert_eq!(nearest_unit("mn", Kind::Length), Some("mm"));
        assert_eq!(nearest_unit("inchs", Kind::Length), Some("in"));
        assert_eq!(nearest_unit("furlong", Kind::Length), None);
        assert_eq!(nearest_unit("", Kind::Length), None);
    }
}
