//! What stands in a box already, for a reader: the value with its tolerance and where it came from.

use boat::{
    ClipSpec, Metal, Piece, SpigotForm, Thread, Told, instrument_of, thread_text, way_text,
};
use quantity::{
    GaugePressure, Instrument, Instruments, Length, Origin, Quantity, Ratio, Reading, System,
    Temperature, Volume, show_measured,
};

use super::Holds;
use crate::verdict::Words;

/// How a written value came to be, which decides how it is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HowWritten {
    /// Read with an instrument, or off a plate, a drawing or a maker's sheet.
    Read(Instrument),
    /// Nobody measured it: the owner guessed.
    Guessed,
    /// Left to the tool.
    Choose,
    /// A word, a count or a decision: nothing that has a tolerance.
    Said,
}

/// What a box holds, for a reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// `38.1 ± 0.1 mm`, `beaded`.
    pub text: Words,
    /// How it came to be.
    pub standing: HowWritten,
}

/// What a box holds and, where that is known, the text of it.
pub(super) struct Held {
    pub(super) holds: Holds,
    typed: Vec<Typed>,
}

/// A value of the model before it is dressed.
#[derive(Clone, Debug)]
pub(super) enum Typed {
    Length(Reading<Length>),
    Pressure(Reading<GaugePressure>),
    Temperature(Reading<Temperature>),
    Volume(Reading<Volume>),
    Ratio(Reading<Ratio>),
    Said(String),
    Choose,
}

/// What can stand in a box.
pub(super) trait Tell {
    fn tell(&self) -> Typed;
}

macro_rules! tell {
    ($($kind:ty => |$own:ident| $typed:expr;)+) => {
        $(impl Tell for $kind {
            fn tell(&self) -> Typed {
                let $own = self;
                $typed
            }
        })+
    };
}

tell! {
    Reading<Length> => |own| Typed::Length(*own);
    Reading<GaugePressure> => |own| Typed::Pressure(*own);
    Reading<Temperature> => |own| Typed::Temperature(*own);
    Reading<Volume> => |own| Typed::Volume(*own);
    Reading<Ratio> => |own| Typed::Ratio(*own);
    String => |own| Typed::Said(own.clone());
    bool => |own| Typed::Said(if *own { "yes" } else { "no" }.to_owned());
    u32 => |own| Typed::Said(own.to_string());
    f64 => |own| Typed::Said(own.to_string());
    SpigotForm => |own| Typed::Said(own.word().to_owned());
    Metal => |own| Typed::Said(own.word().to_owned());
    Thread => |own| Typed::Said(thread_text(own));
    Vec<Piece> => |own| Typed::Said(way_text(own));
    ClipSpec => |own| Typed::Said(clip_text(own));
    (Reading<Length>, Reading<Length>) => |own| Typed::Said(format!(
        "{} over {}",
        quantity::file_text(&own.0),
        quantity::file_text(&own.1)
    ));
}

/// A clip as it is asked for, without a look at the tables.
fn clip_text(clip: &ClipSpec) -> String {
    let number = |length: Length| format!("{}", (length.to_mm() * 100.0).round() / 100.0);
    let mut text = clip.kind.word().to_owned();
    if let Some((closed, open)) = clip.range {
        text += &format!(" {}-{}", number(closed), number(open));
    } else if let Some(size) = clip.size {
        text += &format!(" {}", number(size));
    }
    if let Some(metal) = clip.metal {
        text += &format!(" {}", metal.word());
    }
    text
}

/// What a value of the file puts into its box.
pub(super) fn held<T: Tell>(told: &Told<T>) -> Held {
    let typed = match told {
        Told::Given(own) => vec![own.tell()],
        Told::Two(one, other) => vec![one.tell(), other.tell()],
        Told::Choose => vec![Typed::Choose],
        Told::LeftOut | Told::Unknown => Vec::new(),
    };
    Held {
        holds: Holds::of(told),
        typed,
    }
}

/// The same for a value that the model keeps without its kinds of nothing.
pub(super) fn held_if<T: Tell>(own: Option<&T>) -> Held {
    let typed: Vec<Typed> = own.map(Tell::tell).into_iter().collect();
    let holds = if typed.is_empty() {
        Holds::Nothing
    } else {
        Holds::Value
    };
    Held { holds, typed }
}

impl From<Holds> for Held {
    fn from(holds: Holds) -> Self {
        Self {
            holds,
            typed: Vec::new(),
        }
    }
}

impl Held {
    /// Words that stand.
    pub(super) fn said(text: &str) -> Self {
        Self {
            holds: Holds::Value,
            typed: vec![Typed::Said(text.to_owned())],
        }
    }

    /// The text of it, if anything stands there. A height is signed.
    pub(super) fn written(
        &self,
        place: &str,
        height: bool,
        usual: Option<Instrument>,
        instruments: &Instruments,
    ) -> Option<Written> {
        let usual = instrument_of(place).or(usual).unwrap_or(Instrument::Maker);
        let each: Vec<Written> = self
            .typed
            .iter()
            .map(|typed| match typed {
                Typed::Length(own) => dressed(own, height, usual, instruments),
                Typed::Pressure(own) => dressed(own, false, usual, instruments),
                Typed::Temperature(own) => dressed(own, false, usual, instruments),
                Typed::Volume(own) => dressed(own, false, usual, instruments),
                Typed::Ratio(own) => dressed(own, false, usual, instruments),
                Typed::Said(text) => Written {
                    text: text.as_str().into(),
                    standing: HowWritten::Said,
                },
                Typed::Choose => Written {
                    text: "choose".into(),
                    standing: HowWritten::Choose,
                },
            })
            .collect();
        match each.as_slice() {
            [] => None,
            [one] => Some(one.clone()),
            [one, other, ..] => Some(Written {
                text: Words::of(|system| {
                    let (one, other) = (one.text.in_units(system), other.text.in_units(system));
                    format!("{one} or {other}")
                }),
                standing: one.standing,
            }),
        }
    }
}

fn dressed<Q: Quantity>(
    own: &Reading<Q>,
    height: bool,
    usual: Instrument,
    instruments: &Instruments,
) -> Written {
    let measured = own.measured(instruments, usual);
    let text = Words::of(|system: System| {
        let text = match &measured {
            Some(measured) => show_measured(measured, system),
            None => quantity::show(own.value, None, system),
        };
        if height && own.value.si() > 0.0 {
            format!("+{text}")
        } else {
            text
        }
    });
    let instrument = match measured.map(|measured| measured.origin) {
        Some(Origin::Read(instrument)) => instrument,
        _ => own.instrument.unwrap_or(usual),
    };
    let standing = match instrument {
        Instrument::Guessed => HowWritten::Guessed,
        other => HowWritten::Read(other),
    };
    Written { text, standing }
}
