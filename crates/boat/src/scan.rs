//! A cursor over one structured text, for the grammars.

use std::ops::Range;

use quantity::{Kind, Length, NominalSize, Quantity, Ratio, Unit, VolumeFlow};

use crate::model::Size;
use crate::remark::{Code, Fault};
use crate::words::{Word, listed, match_word, nearest};

/// A cursor over a part of a text; all spans count from the start of the whole text.
#[derive(Clone, Debug)]
pub(crate) struct Scan<'t> {
    text: &'t str,
    at: usize,
    end: usize,
}

impl<'t> Scan<'t> {
    pub(crate) fn new(text: &'t str, within: Range<usize>) -> Self {
        Self {
            text,
            at: within.start,
            end: within.end,
        }
    }

    pub(crate) fn rest(&self) -> &'t str {
        &self.text[self.at..self.end]
    }

    pub(crate) fn at(&self) -> usize {
        self.at
    }

    pub(crate) fn skip_space(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }

    pub(crate) fn is_done(&mut self) -> bool {
        self.skip_space();
        self.rest().is_empty()
    }

    /// Takes this sign if it stands next.
    pub(crate) fn eat(&mut self, sign: &str) -> bool {
        self.skip_space();
        let stands = self.rest().starts_with(sign);
        if stands {
            self.at += sign.len();
        }
        stands
    }

    /// Takes one of these words if it stands next.
    pub(crate) fn eat_word(&mut self, words: &[&str]) -> bool {
        self.skip_space();
        let longest = words
            .iter()
            .filter_map(|word| match_word(word, self.rest()))
            .max();
        self.at += longest.unwrap_or(0);
        longest.is_some()
    }

    /// What stands next up to a space or mark; never empty unless the text is done.
    pub(crate) fn next_bit(&mut self) -> Range<usize> {
        self.skip_space();
        let rest = self.rest();
        let length = rest
            .find(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | '>'))
            .unwrap_or(rest.len());
        let one = rest.chars().next().map_or(0, char::len_utf8);
        self.at..self.at + length.max(one)
    }

    pub(crate) fn read(&self, span: Range<usize>) -> &'t str {
        &self.text[span]
    }

    /// The word of a choice, if one stands next.
    pub(crate) fn word<T: Word>(&mut self) -> Option<T> {
        self.skip_space();
        let (row, length) = T::LIST.find_prefix(self.rest())?;
        self.at += length;
        T::CHOICES.get(row).copied()
    }

    /// The word of a choice, which must stand next.
    pub(crate) fn due_word<T: Word>(&mut self) -> Result<T, Fault> {
        if let Some(choice) = self.word() {
            return Ok(choice);
        }
        Err(self.no_word(T::LIST.what, T::LIST.printed()))
    }

    /// What is said where one of these words is due and something else stands.
    pub(crate) fn no_word(
        &mut self,
        what: &str,
        words: impl Iterator<Item = &'static str>,
    ) -> Fault {
        let words: Vec<&str> = words.collect();
        let list = listed(words.iter().copied(), "or");
        let bit = self.next_bit();
        let read = self.read(bit.clone());
        if read.is_empty() {
            return self.ends(&format!("a {what}")).expecting(list);
        }
        let message = match nearest(read, words.iter().copied()) {
            Some(near) => format!("“{read}” is no {what}; did you mean {near}?"),
            None => format!("“{read}” is no {what}"),
        };
        Fault::new(Code::UnknownWord, bit, message).expecting(list)
    }

    /// What is said where the text ends too early.
    pub(crate) fn ends(&self, due: &str) -> Fault {
        let end = self.text[..self.end].trim_end().len();
        let last = self.text[..end]
            .char_indices()
            .next_back()
            .map_or(end, |(at, _)| at);
        let read = self.text[..end].trim();
        let after = if read.is_empty() {
            String::from("nothing stands here")
        } else {
            format!("it ends after “{}”", tail(read))
        };
        Fault::new(
            Code::BadForm,
            last..end,
            format!("{due} is due, but {after}"),
        )
    }

    /// What is said where something follows that belongs to nothing.
    pub(crate) fn left_over(&mut self, after: &str) -> Fault {
        let bit = self.next_bit();
        Fault::new(
            Code::BadForm,
            bit.clone(),
            format!("“{}” after {after} belongs to nothing", self.read(bit)),
        )
    }

    /// A number as the trade writes sizes: `38`, `12.5`, `1 1/2`, `1-1/4`, `1½`. Where it ends.
    fn number_end(&self, at: usize) -> Option<usize> {
        let rest = &self.text[at..self.end];
        let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
        let fraction = |text: &str| {
            let over = digits(text);
            let under = text[over..].strip_prefix('/').map_or(0, digits);
            (over > 0 && under > 0).then_some(over + 1 + under)
        };
        let vulgar = |text: &str| {
            text.chars()
                .next()
                .filter(|c| "¼½¾⅓⅔⅛⅜⅝⅞".contains(*c))
                .map(char::len_utf8)
        };
        if let Some(length) = fraction(rest).or_else(|| vulgar(rest)) {
            return Some(at + length);
        }
        let whole = digits(rest);
        if whole == 0 {
            return None;
        }
        let after = &rest[whole..];
        let part = after.strip_prefix(['.', ',']).map_or(0, digits);
        if part > 0 {
            return Some(at + whole + 1 + part);
        }
        if let Some(length) = vulgar(after) {
            return Some(at + whole + length);
        }
        let mixed = after.strip_prefix([' ', '-']).and_then(fraction);
        Some(at + whole + mixed.map_or(0, |length| 1 + length))
    }

    /// The bytes of a number and of the unit of size that may follow it.
    fn size_bytes(&mut self) -> Option<(Range<usize>, Range<usize>)> {
        self.skip_space();
        let end = self.number_end(self.at)?;
        let rest = &self.text[end..self.end];
        let unit_at = end + (rest.len() - rest.trim_start_matches(' ').len());
        let unit = &self.text[unit_at..self.end];
        let length = ["mm", "inches", "inch", "in"]
            .iter()
            .filter_map(|name| match_word(name, unit))
            .max();
        let length = length.or_else(|| unit.starts_with('"').then_some(1));
        let unit = length.map_or(end..end, |length| unit_at..unit_at + length);
        Some((self.at..end, unit))
    }

    /// A size by name.
    pub(crate) fn size(&mut self, of: &str) -> Result<NominalSize, Fault> {
        let Some((number, unit)) = self.size_bytes() else {
            let bit = self.next_bit();
            let read = self.read(bit.clone());
            if read.is_empty() {
                return Err(self
                    .ends(&format!("the size of {of}"))
                    .expecting("a size such as 38, 12.5 or 1 1/2 in"));
            }
            let message = format!("“{read}” is no size of {of}");
            return Err(Fault::new(Code::BadForm, bit, message)
                .expecting("a size such as 38, 12.5 or 1 1/2 in"));
        };
        let whole = number.start..unit.end.max(number.end);
        let size = NominalSize::parse(self.read(whole.clone()))
            .map_err(|error| Fault::from(error).moved(whole.start))?;
        self.at = whole.end;
        Ok(size)
    }

    /// A size by name, or `choose`.
    pub(crate) fn size_or_choose(&mut self, of: &str) -> Result<Size, Fault> {
        if self.eat_word(&["choose"]) {
            Ok(Size::Choose)
        } else {
            self.size(of).map(Size::Named)
        }
    }

    /// A plain length with which the rest begins: `600`, `1.8 m`.
    pub(crate) fn length(&mut self, bare: Option<&'static Unit>) -> Result<Length, Fault> {
        self.skip_space();
        let (length, taken) = quantity::parse_prefix::<Length>(self.rest(), bare)
            .map_err(|error| Fault::from(error).moved(self.at))?;
        let span = self.at..self.at + taken;
        if length.si() <= 0.0 {
            let read = self.read(span.clone());
            return Err(Fault::new(
                Code::BadQuantity,
                span,
                format!("{read} is no length here: one is over 0"),
            ));
        }
        self.at += taken;
        Ok(length)
    }

    /// A share with which the rest begins, from 0 to 100 %; bare, it is in per cent.
    pub(crate) fn share(&mut self) -> Result<Ratio, Fault> {
        self.skip_space();
        let (share, taken) =
            quantity::parse_prefix::<Ratio>(self.rest(), Unit::find(Kind::Ratio, "%"))
                .map_err(|error| Fault::from(error).moved(self.at))?;
        let span = self.at..self.at + taken;
        if !(0.0..=1.0).contains(&share.si()) {
            let read = self.read(span.clone());
            let message = format!("{read} is out of range: 0 to 100 % is due");
            return Err(Fault::new(Code::BadQuantity, span, message));
        }
        self.at += taken;
        Ok(share)
    }

    /// A Kv with which the rest begins: a flow over 0; bare, it is in m³/h.
    pub(crate) fn kv(&mut self) -> Result<VolumeFlow, Fault> {
        self.skip_space();
        let (kv, taken) =
            quantity::parse_prefix::<VolumeFlow>(self.rest(), Unit::find(Kind::VolumeFlow, "m³/h"))
                .map_err(|error| Fault::from(error).moved(self.at))?;
        let span = self.at..self.at + taken;
        if kv.si() <= 0.0 {
            let read = self.read(span.clone());
            let message = format!("{read} is no Kv: one is over 0");
            return Err(Fault::new(Code::BadQuantity, span, message));
        }
        self.at += taken;
        Ok(kv)
    }

    /// Two lengths in one unit (mm unless inches are typed): `32-50`, `1 1/4 to 2 in`.
    pub(crate) fn range(&mut self) -> Option<Result<(Length, Length), Fault>> {
        let begin = self.clone();
        let (low, low_unit) = self.size_bytes()?;
        self.at = low.end.max(low_unit.end);
        let dash =
            ["..", "–", "—", "-"].iter().any(|sign| self.eat(sign)) || self.eat_word(&["to"]);
        let second = if dash { self.size_bytes() } else { None };
        let Some((high, high_unit)) = second else {
            *self = begin;
            return None;
        };
        let whole = low.start..high.end.max(high_unit.end);
        self.at = whole.end;
        let unit = self.read(if low_unit.is_empty() {
            high_unit
        } else {
            low_unit
        });
        let unit = if unit.is_empty() { "mm" } else { unit };
        let length = |span: &Range<usize>| {
            let text = format!("{} {unit}", self.read(span.clone()));
            quantity::parse::<Length>(&text, None)
                .map_err(|error| Fault::new(Code::BadQuantity, span.clone(), error.message))
        };
        let read = self.read(whole.clone());
        Some(
            length(&low)
                .and_then(|low| Ok((low, length(&high)?)))
                .and_then(|(low, high)| {
                    if low < high {
                        Ok((low, high))
                    } else {
                        let message =
                            format!("{read} does not run upward: the closed diameter stands first");
                        Err(Fault::new(Code::BadQuantity, whole, message))
                    }
                }),
        )
    }
}

/// The last few words of a text.
fn tail(text: &str) -> &str {
    let words = text.split_whitespace().count();
    let mut rest = text;
    for _ in 3..words {
        rest = rest
            .split_once(char::is_whitespace)
            .map_or(rest, |(_, after)| after.trim_start());
    }
    rest
}

/// The parts of a text between separators, with their bytes; outer spaces don't belong to a part.
pub(crate) fn parts(text: &str, separator: char) -> Vec<Range<usize>> {
    let mut at = 0;
    text.split(separator)
        .map(|part| {
            let begin = at + (part.len() - part.trim_start().len());
            at += part.len() + separator.len_utf8();
            begin..begin + part.trim().len()
        })
        .collect()
}
