//! The primitives that every picture and every sheet is made of.

/// A laid out picture.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// Width, px.
    pub width: f64,
    /// Height, px.
    pub height: f64,
    /// What the picture is, in one sentence, for a reader of screens.
    pub spoken: String,
    /// The primitives, from the back to the front.
    pub placed: Vec<Placed>,
}

impl Picture {
    /// Lays `other` over this one with its corner at `x`, `y`.
    pub fn lay(&mut self, other: &Picture, x: f64, y: f64) {
        self.placed
            .extend(other.placed.iter().map(|one| one.moved(x, y)));
    }

    /// Adds a primitive without a key.
    pub fn put(&mut self, class: Class, shape: Shape) {
        self.placed.push(Placed::of(class, shape));
    }

    /// Adds a primitive that stands for `key`: a mark, a run or a thing of the boat file.
    pub fn put_for(&mut self, key: &str, class: Class, shape: Shape) {
        self.placed.push(Placed {
            key: Some(key.to_owned()),
            ..Placed::of(class, shape)
        });
    }
}

/// A primitive in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// What it is, which says how it is inked.
    pub class: Class,
    /// The mark, run or thing that it stands for.
    pub key: Option<String>,
    /// What a reader of screens says of it.
    pub spoken: Option<String>,
    /// The form itself.
    pub shape: Shape,
}

impl Placed {
    /// A primitive that stands for nothing but itself.
    #[must_use]
    pub fn of(class: Class, shape: Shape) -> Placed {
        Placed {
            class,
            key: None,
            spoken: None,
            shape,
        }
    }

    /// The same primitive, `x` further right and `y` further down.
    #[must_use]
    pub fn moved(&self, x: f64, y: f64) -> Placed {
        Placed {
            shape: self.shape.moved(x, y),
            ..self.clone()
        }
    }
}

/// A form.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Straight and curved steps.
    Path(Vec<Step>),
    /// A circle or a disc, by its class.
    Circle {
        /// Centre, px.
        x: f64,
        /// Centre, px.
        y: f64,
        /// Radius, px.
        r: f64,
    },
    /// One line of text; `y` is its base line.
    Text {
        /// Where the anchor stands, px.
        x: f64,
        /// The base line, px.
        y: f64,
        /// Which end of the text stands at `x`.
        anchor: Anchor,
        /// The cut of the type.
        face: Face,
        /// The size of the type, px.
        size: f64,
        /// The words.
        text: String,
    },
}

impl Shape {
    /// A straight line.
    #[must_use]
    pub fn line(from: (f64, f64), to: (f64, f64)) -> Shape {
        Shape::Path(vec![Step::To(from.0, from.1), Step::Line(to.0, to.1)])
    }

    /// An open line through `points`.
    #[must_use]
    pub fn through(points: &[(f64, f64)]) -> Shape {
        let mut steps = Vec::with_capacity(points.len());
        for (at, &(x, y)) in points.iter().enumerate() {
            steps.push(if at == 0 {
                Step::To(x, y)
            } else {
                Step::Line(x, y)
            });
        }
        Shape::Path(steps)
    }

    /// A closed figure through `points`.
    #[must_use]
    pub fn figure(points: &[(f64, f64)]) -> Shape {
        let Shape::Path(mut steps) = Shape::through(points) else {
            return Shape::Path(Vec::new());
        };
        steps.push(Step::Close);
        Shape::Path(steps)
    }

    /// An upright rectangle.
    #[must_use]
    pub fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Shape {
        Shape::figure(&[
            (x, y),
            (x + width, y),
            (x + width, y + height),
            (x, y + height),
        ])
    }

    /// The same form, `dx` further right and `dy` further down.
    #[must_use]
    pub fn moved(&self, dx: f64, dy: f64) -> Shape {
        match self {
            Shape::Path(steps) => {
                Shape::Path(steps.iter().map(|step| step.moved(dx, dy)).collect())
            }
            Shape::Circle { x, y, r } => Shape::Circle {
                x: x + dx,
                y: y + dy,
                r: *r,
            },
            Shape::Text {
                x,
                y,
                anchor,
                face,
                size,
                text,
            } => Shape::Text {
                x: x + dx,
                y: y + dy,
                anchor: *anchor,
                face: *face,
                size: *size,
                text: text.clone(),
            },
        }
    }
}

/// One step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Lift the pen and go there.
    To(f64, f64),
    /// Draw straight to there.
    Line(f64, f64),
    /// A cubic curve: two handles, then the end.
    Curve(f64, f64, f64, f64, f64, f64),
    /// Back to where the pen came down.
    Close,
}

impl Step {
    fn moved(self, dx: f64, dy: f64) -> Step {
        match self {
            Step::To(x, y) => Step::To(x + dx, y + dy),
            Step::Line(x, y) => Step::Line(x + dx, y + dy),
            Step::Curve(a, b, c, d, x, y) => {
                Step::Curve(a + dx, b + dy, c + dx, d + dy, x + dx, y + dy)
            }
            Step::Close => Step::Close,
        }
    }
}

/// Which end of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The left end.
    Start,
    /// The middle.
    Middle,
    /// The right end.
    End,
}

/// The cut of the type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// Upright.
    Plain,
    /// Bold.
    Bold,
    /// Italic: what nobody has measured.
    Italic,
}

/// What a primitive is. How each is inked on paper stands in [`crate::draw::ink`]; the page has
/// its own style of the same names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Class {
    /// Running text.
    Text,
    /// Second text: captions, instruments, units.
    Soft,
    /// A patch in the colour of the sheet: behind a text or a line, so that it reads.
    Sheet,
    /// The frame of the sheet.
    Frame,
    /// A rule between rows; decoration.
    Hair,
    /// Dimensions, leaders, hatch.
    Fine,
    /// Neighbours, borders of controls.
    Thin,
    /// Joint ticks, borders of cards.
    Middle,
    /// A solid patch of ink.
    Solid,
    /// The box around what nobody has measured: dashed.
    Assumed,
    /// An empty box for a pencil.
    Empty,
    /// The loop, known.
    Loop,
    /// The loop where its place is assumed: dashed.
    LoopAssumed,
    /// The casing of a metal pipe, and the second line of what is under water.
    LoopSecond,
    /// The cold way back of the loop drawing: a heavy line with a core of the sheet.
    LoopCold,
    /// The core of a cold or of a selected line.
    LoopCore,
    /// The clear band in the colour of the sheet around the loop: a broad stroke.
    Halo,
    /// A leg that nothing flows through: dashed, heavy.
    DeadLeg,
    /// The wash of the sea.
    Sea,
    /// The still waterline.
    Waterline,
    /// The trace of the waterline heeled to starboard.
    HeelStarboard,
    /// The trace of the waterline heeled to port.
    HeelPort,
    /// The trace of the waterline trimmed.
    Trim,
    /// The hatch of the suction side.
    Suction,
    /// The crossed hatch where the hose is under less than the air's pressure.
    BelowAir,
    /// The grade line of the chosen state.
    GradeLine,
    /// The grade line of another state.
    GradeOther,
    /// The line at which the coolant would boil.
    Boil,
    /// The header's cap and level.
    Header,
    /// A vent.
    Vent,
    /// The temperature of the coolant.
    Temperature,
    /// The alarm.
    Alarm,
    /// The temperature of the sea.
    SeaTemperature,
    /// The arrangement before the refit.
    Before,
    /// The line along a hose that is kept uppermost: chain-dotted.
    LayLine,
    /// The ring on a hose to which it is pushed on: dashed.
    PushMark,
    /// The shape of a sound verdict.
    Sound,
    /// The shape of a marginal verdict.
    Marginal,
    /// The shape of an unsound verdict.
    Unsound,
    /// The cross inside the shape of an unsound verdict.
    UnsoundCross,
    /// The shape of what is unmeasured.
    Unmeasured,
}
