//! What stands in a box already, for a reader: the value with its tolerance and where it came from.

use boat::{
    ClipSpec, Metal, Piece, SpigotForm, Thread, Told, instrument_of, thread_text, way_text,
};
use quantity::{
    GaugePressure, Instrument, Instruments, Length, Measured, Origin, Quantity, Ratio, Reading,
    System, Temperature, Tolerance, Volume, show, show_half_width, show_measured,
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
    /// A wish: what is to be, and nothing that anybody read.
    Wanted,
    /// Part of an arrangement, and without an instrument: what is to be fitted.
    Planned,
    /// Left to the tool.
    Choose,
    /// A word, a count or a decision: nothing that has a tolerance.
    Said,
}

/// What a box holds, for a reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// `38.1 ± 0.1 mm`, `38.1 mm (± 0.1 mm)` where only the instrument says how far off it may be, `beaded`.
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
        let of = About {
            place,
            height,
            usual: instrument_of(place).or(usual),
            instruments,
        };
        let each: Vec<Written> = self
            .typed
            .iter()
            .map(|typed| match typed {
                Typed::Length(own) => of.dressed(own),
                Typed::Pressure(own) => of.dressed(own),
                Typed::Temperature(own) => of.dressed(own),
                Typed::Volume(own) => of.dressed(own),
                Typed::Ratio(own) => of.dressed(own),
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

/// What is known of a value beside itself.
struct About<'a> {
    /// Where it stands in the file.
    place: &'a str,
    /// Whether it is signed.
    height: bool,
    /// With what it is read where nothing is said, if anything usually is.
    usual: Option<Instrument>,
    instruments: &'a Instruments,
}

impl About<'_> {
    fn dressed<Q: Quantity>(&self, own: &Reading<Q>) -> Written {
        let usual = self.usual.unwrap_or(Instrument::Maker);
        let measured = own.measured(self.instruments, usual);
        let standing = self.standing(own, measured.as_ref());
        // A guess stands in brackets whole.
        let stated =
            !matches!(own.tolerance, Tolerance::Unstated) || standing == HowWritten::Guessed;
        let to_be = matches!(standing, HowWritten::Wanted | HowWritten::Planned);
        let signed = self.height && own.value.si() > 0.0;
        let value = own.value;
        let text = Words::of(|system: System| {
            let text = match &measured {
                Some(measured) if stated => show_measured(measured, system),
                // How far off it may be is the instrument's word and not the owner's.
                Some(measured) if !to_be => {
                    let half = show_half_width(measured.half_width(), value, system);
                    format!("{} (± {half})", show(value, None, system))
                }
                _ => show(value, None, system),
            };
            if signed { format!("+{text}") } else { text }
        });
        Written { text, standing }
    }

    /// How a value came to be, by its place and by what the owner says.
    fn standing<Q: Quantity>(
        &self,
        own: &Reading<Q>,
        measured: Option<&Measured<Q>>,
    ) -> HowWritten {
        let read = match measured.map(|measured| measured.origin) {
            Some(Origin::Read(instrument)) => Some(instrument),
            _ => own.instrument.or(self.usual),
        };
        if read == Some(Instrument::Guessed) {
            return HowWritten::Guessed;
        }
        if self.place.starts_with("coolant.wanted.") {
            return HowWritten::Wanted;
        }
        let said = own.instrument.is_some();
        if self.place.starts_with("arrangements.") && !said {
            return HowWritten::Planned;
        }
        match read {
            Some(instrument) if said || self.usual.is_some() => HowWritten::Read(instrument),
            // Nobody says with what, and nothing is usual.
            _ => HowWritten::Said,
        }
    }
}
