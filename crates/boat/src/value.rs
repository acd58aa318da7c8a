//! What was read, before it is put into the model: one tree of typed values.

use quantity::{
    Angle, At, BendingStiffness, Current, GaugePressure, HalfWidth, HeatPerKelvin, Length, Mass,
    Power, PressureDifference, Quantity, Ratio, Reading, RotationalSpeed, Speed, Temperature,
    Voltage, Volume, VolumeFlow,
};

use crate::keys::TableRow;
use crate::model::{
    BayPoint, Bend, ChainPart, ClipSpec, Gives, Heading, Path, Piece, Price, PumpCurve, ScanPlace,
    Sex, SideWord, StockClip, StockHose, StockPart, Thread, Told,
};
use crate::words::Word;

/// One value.
#[derive(Debug)]
pub(crate) struct Node {
    pub(crate) said: Said,
}

/// What stands there. The tree is walked once and dropped, so its size matters less than its plainness.
#[derive(Debug)]
#[allow(clippy::large_enum_variant)]
pub(crate) enum Said {
    /// Nothing that could be read; a remark says why.
    Unreadable,
    /// `"?"`.
    Unknown,
    /// `"choose"`.
    Choose,
    One(Datum),
    Two(Datum, Datum),
    List(Vec<Node>),
    Table(&'static TableRow, Vec<(String, Node)>),
}

/// One typed value.
#[derive(Clone, Debug)]
pub(crate) enum Datum {
    Length(Reading<Length>),
    PlainLength(Length),
    Temperature(Reading<Temperature>),
    Volume(Reading<Volume>),
    GaugePressure(Reading<GaugePressure>),
    Power(Reading<Power>),
    VolumeFlow(Reading<VolumeFlow>),
    RotationalSpeed(Reading<RotationalSpeed>),
    Speed(Reading<Speed>),
    Angle(Reading<Angle>),
    Ratio(Reading<Ratio>),
    HeatPerKelvin(Reading<HeatPerKelvin>),
    Spread(HalfWidth<Length>),
    PowerAt(At<Power, RotationalSpeed>),
    CurrentAt(At<Current, Voltage>),
    DropAt(At<PressureDifference, VolumeFlow>),
    Gives(Gives),
    Number(f64),
    Count(u32),
    Bool(bool),
    Text(String),
    /// Which row of the list of words.
    Choice(usize),
    Way(Vec<Piece>),
    Chain(Vec<ChainPart>),
    Bends(Vec<Bend>),
    Path(Path),
    Thread(Thread, Option<Sex>),
    Clip(ClipSpec),
    StockClip(StockClip),
    StockHose(StockHose),
    StockPart(StockPart),
    Price(Price),
    Curve(PumpCurve),
    Taper(Reading<Length>, Reading<Length>),
    End(String, Option<String>),
    Side(SideWord),
    Mass(Reading<Mass>),
    Stiffness(Reading<BendingStiffness>),
    Point(BayPoint),
    Triple([f64; 3]),
    Heading(Heading),
    Spotted(ScanPlace),
}

/// Taken out of a datum of the right kind.
pub(crate) trait Take: Sized {
    fn take(datum: &Datum) -> Option<Self>;
}

macro_rules! take {
    ($($type:ty: $pattern:pat => $value:expr),+ $(,)?) => {$(
        impl Take for $type {
            fn take(datum: &Datum) -> Option<Self> {
                match datum { $pattern => Some($value), _ => None }
            }
        }
    )+};
}
take!(
    Reading<Length>: Datum::Length(x) => *x,
    Length: Datum::PlainLength(x) => *x,
    Reading<Temperature>: Datum::Temperature(x) => *x,
    Reading<Volume>: Datum::Volume(x) => *x,
    Reading<GaugePressure>: Datum::GaugePressure(x) => *x,
    Reading<Power>: Datum::Power(x) => *x,
    Reading<VolumeFlow>: Datum::VolumeFlow(x) => *x,
    Reading<RotationalSpeed>: Datum::RotationalSpeed(x) => *x,
    Reading<Speed>: Datum::Speed(x) => *x,
    Reading<Angle>: Datum::Angle(x) => *x,
    Reading<Ratio>: Datum::Ratio(x) => *x,
    Reading<HeatPerKelvin>: Datum::HeatPerKelvin(x) => *x,
    HalfWidth<Length>: Datum::Spread(x) => *x,
    At<Power, RotationalSpeed>: Datum::PowerAt(x) => *x,
    At<Current, Voltage>: Datum::CurrentAt(x) => *x,
    At<PressureDifference, VolumeFlow>: Datum::DropAt(x) => *x,
    Gives: Datum::Gives(x) => *x,
    f64: Datum::Number(x) => *x,
    u32: Datum::Count(x) => *x,
    bool: Datum::Bool(x) => *x,
    String: Datum::Text(x) => x.clone(),
    Vec<Piece>: Datum::Way(x) => x.clone(),
    Vec<ChainPart>: Datum::Chain(x) => x.clone(),
    Vec<Bend>: Datum::Bends(x) => x.clone(),
    Path: Datum::Path(x) => x.clone(),
    (Thread, Option<Sex>): Datum::Thread(x, sex) => (*x, *sex),
    ClipSpec: Datum::Clip(x) => x.clone(),
    StockClip: Datum::StockClip(x) => x.clone(),
    StockHose: Datum::StockHose(x) => x.clone(),
    StockPart: Datum::StockPart(x) => x.clone(),
    Price: Datum::Price(x) => x.clone(),
    PumpCurve: Datum::Curve(x) => x.clone(),
    (Reading<Length>, Reading<Length>): Datum::Taper(x, over) => (*x, *over),
    SideWord: Datum::Side(x) => x.clone(),
    Reading<Mass>: Datum::Mass(x) => *x,
    Reading<BendingStiffness>: Datum::Stiffness(x) => *x,
    BayPoint: Datum::Point(x) => *x,
    [f64; 3]: Datum::Triple(x) => *x,
    Heading: Datum::Heading(x) => x.clone(),
    ScanPlace: Datum::Spotted(x) => x.clone(),
    (String, Option<String>): Datum::End(x, second) => (x.clone(), second.clone()),
);

impl Node {
    /// What the file tells under a key of this table.
    pub(crate) fn told<T: Take>(&self, key: &str) -> Told<T> {
        self.get(key).map_or(Told::LeftOut, Self::as_told)
    }

    /// What it tells itself.
    pub(crate) fn as_told<T: Take>(&self) -> Told<T> {
        match &self.said {
            Said::Unknown => Told::Unknown,
            Said::Choose => Told::Choose,
            Said::One(datum) => T::take(datum).map_or(Told::LeftOut, Told::Given),
            Said::Two(one, other) => match (T::take(one), T::take(other)) {
                (Some(one), Some(other)) => Told::Two(one, other),
                _ => Told::LeftOut,
            },
            Said::Unreadable | Said::List(_) | Said::Table(..) => Told::LeftOut,
        }
    }

    /// The value under a key, where one stands.
    pub(crate) fn given<T: Take>(&self, key: &str) -> Option<T> {
        self.told(key).given_owned()
    }

    /// The choice that the file tells under a key.
    pub(crate) fn word<T: Word>(&self, key: &str) -> Told<T> {
        self.get(key).map_or(Told::LeftOut, Self::as_word)
    }

    /// The choice that it tells itself.
    pub(crate) fn as_word<T: Word>(&self) -> Told<T> {
        match &self.said {
            Said::Unknown => Told::Unknown,
            Said::Choose => Told::Choose,
            Said::One(Datum::Choice(row)) => T::CHOICES
                .get(*row)
                .map_or(Told::LeftOut, |choice| Told::Given(*choice)),
            _ => Told::LeftOut,
        }
    }

    /// The node under a key of this table.
    pub(crate) fn get(&self, key: &str) -> Option<&Node> {
        self.entries()
            .iter()
            .find(|(name, _)| name == key)
            .map(|(_, node)| node)
    }

    /// The entries of this table, in the order of the file.
    pub(crate) fn entries(&self) -> &[(String, Node)] {
        match &self.said {
            Said::Table(_, entries) => entries,
            _ => &[],
        }
    }

    /// The items of this list.
    pub(crate) fn items(&self) -> &[Node] {
        match &self.said {
            Said::List(items) => items,
            _ => &[],
        }
    }

    /// The values of a list under a key.
    pub(crate) fn list<T: Take>(&self, key: &str) -> Vec<T> {
        self.get(key).map_or_else(Vec::new, |node| {
            node.items()
                .iter()
                .filter_map(|item| item.as_told().given_owned())
                .collect()
        })
    }

    /// Which table it is.
    pub(crate) fn is(&self, table: &'static TableRow) -> bool {
        matches!(&self.said, Said::Table(row, _) if std::ptr::eq(*row, table))
    }
}

impl Datum {
    /// The number of a quantity in SI, for a look at its sign.
    pub(crate) fn si(&self) -> Option<f64> {
        Some(match self {
            Self::Length(x) => x.value.si(),
            Self::PlainLength(x) => x.si(),
            Self::Temperature(x) => x.value.si(),
            Self::Volume(x) => x.value.si(),
            Self::GaugePressure(x) => x.value.si(),
            Self::Power(x) => x.value.si(),
            Self::VolumeFlow(x) => x.value.si(),
            Self::RotationalSpeed(x) => x.value.si(),
            Self::Speed(x) => x.value.si(),
            Self::Angle(x) => x.value.si(),
            Self::Ratio(x) => x.value.si(),
            Self::HeatPerKelvin(x) => x.value.si(),
            Self::Mass(x) => x.value.si(),
            Self::Stiffness(x) => x.value.si(),
            _ => return None,
        })
    }
}
