//! How each class is inked on paper: weight, dash, fill. Black only.
//!
//! Weights are the four of a drawing office, in mm of paper; a dash is in px, as on the page. The
//! wash of the sea is left out on paper, for a grey wash eats toner and hides pencil: the still
//! waterline, its sign and the second line under what is wet say it without.

use super::shape::Class;

/// The finest line, mm: dimensions, leaders, hatch.
pub const FINE: f64 = 0.18;
/// A thin line, mm: neighbours, the grade line, borders.
pub const THIN: f64 = 0.25;
/// A middle line, mm: ticks of joints, cards.
pub const MIDDLE: f64 = 0.35;
/// A heavy line, mm: the loop, the frame.
pub const HEAVY: f64 = 0.7;

/// CSS px in a millimetre of paper.
pub const PX_IN_MM: f64 = 96.0 / 25.4;

/// A tone. There are two on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Black.
    Ink,
    /// The white of the paper.
    Sheet,
}

/// How the inside of a shape is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Not at all.
    None,
    /// Black.
    Ink,
    /// In the white of the paper, to cover what lies beneath.
    Sheet,
}

/// How a line ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// Cut off square.
    Butt,
    /// Round, for dots.
    Round,
}

/// How a class is inked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    /// The weight of the line, mm of paper; none where nothing is stroked.
    pub stroke_mm: Option<f64>,
    /// The tone of the line.
    pub tone: Tone,
    /// Line and gap in turn, px; empty for a solid line.
    pub dash: &'static [f64],
    /// How the line ends.
    pub cap: Cap,
    /// The inside. Texts are filled and never stroked.
    pub fill: Fill,
}

impl Ink {
    /// The weight of the line, px; 0 where nothing is stroked.
    #[must_use]
    pub fn stroke(&self) -> f64 {
        self.stroke_mm.unwrap_or(0.0) * PX_IN_MM
    }

    /// Whether it leaves a trace on paper.
    #[must_use]
    pub fn shows(&self) -> bool {
        self.stroke_mm.is_some() || self.fill != Fill::None
    }
}

const fn line(weight: f64, dash: &'static [f64]) -> Ink {
    Ink {
        stroke_mm: Some(weight),
        tone: Tone::Ink,
        dash,
        cap: Cap::Butt,
        fill: Fill::None,
    }
}

const fn white(weight: f64) -> Ink {
    Ink {
        tone: Tone::Sheet,
        ..line(weight, &[])
    }
}

const fn filled(fill: Fill) -> Ink {
    Ink {
        stroke_mm: None,
        fill,
        ..line(0.0, &[])
    }
}

/// The ink of a class.
#[must_use]
pub fn of(class: Class) -> Ink {
    match class {
        Class::Text | Class::Soft | Class::Solid => filled(Fill::Ink),
        Class::Sheet | Class::UnsoundCross => filled(Fill::Sheet),
        Class::Sea => filled(Fill::None),
        Class::Frame | Class::Loop => line(HEAVY, &[]),
        Class::Hair | Class::Fine | Class::Suction | Class::BelowAir => line(FINE, &[]),
        Class::Thin | Class::Empty | Class::Waterline => line(THIN, &[]),
        Class::Middle | Class::Temperature => line(MIDDLE, &[]),
        Class::Assumed => line(THIN, &[6.0, 4.0]),
        Class::LoopAssumed | Class::DeadLeg => line(HEAVY, &[6.0, 4.0]),
        Class::LoopSecond => line(FINE, &[]),
        Class::LoopCold => line(HEAVY, &[]),
        Class::LoopCore => white(0.3),
        Class::Halo => white(7.0 / PX_IN_MM),
        Class::HeelStarboard => line(FINE, &[10.0, 3.0, 2.0, 3.0]),
        Class::HeelPort => line(FINE, &[4.0, 3.0]),
        Class::Trim => line(FINE, &[2.0, 2.0, 8.0, 2.0]),
        Class::GradeLine => line(THIN, &[14.0, 4.0]),
        Class::GradeOther => line(FINE, &[14.0, 4.0]),
        Class::Boil => line(FINE, &[1.0, 2.0, 4.0, 2.0]),
        Class::Header => Ink {
            cap: Cap::Round,
            ..line(THIN, &[1.0, 3.0])
        },
        Class::Vent => line(THIN, &[3.0, 3.0]),
        Class::Alarm => line(FINE, &[6.0, 3.0]),
        Class::SeaTemperature | Class::Before => line(FINE, &[2.0, 3.0]),
        Class::LayLine => line(FINE, &[10.0, 2.0, 1.5, 2.0]),
        Class::PushMark => line(MIDDLE, &[4.0, 2.5]),
        Class::Sound | Class::Marginal | Class::Unsound => filled(Fill::Ink),
        Class::Unmeasured => line(MIDDLE, &[]),
    }
}

/// The name of a class in a style: `grade-line`.
#[must_use]
pub fn name(class: Class) -> &'static str {
    match class {
        Class::Text => "text",
        Class::Soft => "soft",
        Class::Sheet => "sheet",
        Class::Frame => "frame",
        Class::Hair => "hair",
        Class::Fine => "fine",
        Class::Thin => "thin",
        Class::Middle => "middle",
        Class::Solid => "solid",
        Class::Assumed => "assumed",
        Class::Empty => "empty",
        Class::Loop => "loop",
        Class::LoopAssumed => "loop-assumed",
        Class::LoopSecond => "loop-second",
        Class::LoopCold => "loop-cold",
        Class::LoopCore => "loop-core",
        Class::Halo => "halo",
        Class::DeadLeg => "dead-leg",
        Class::Sea => "sea",
        Class::Waterline => "waterline",
        Class::HeelStarboard => "heel-starboard",
        Class::HeelPort => "heel-port",
        Class::Trim => "trim",
        Class::Suction => "suction",
        Class::BelowAir => "below-air",
        Class::GradeLine => "grade-line",
        Class::GradeOther => "grade-other",
        Class::Boil => "boil",
        Class::Header => "header",
        Class::Vent => "vent",
        Class::Temperature => "temperature",
        Class::Alarm => "alarm",
        Class::SeaTemperature => "sea-temperature",
        Class::Before => "before",
        Class::LayLine => "lay-line",
        Class::PushMark => "push-mark",
        Class::Sound => "sound",
        Class::Marginal => "marginal",
        Class::Unsound => "unsound",
        Class::UnsoundCross => "unsound-cross",
        Class::Unmeasured => "unmeasured",
    }
}
