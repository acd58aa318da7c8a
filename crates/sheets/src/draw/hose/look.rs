//! Where one stands and what is right and up from there, whichever way the file's x points.

use reckon::Place;

/// A view, named by where one stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// From above, the bow to the right.
    Above,
    /// From starboard, the bow to the right.
    Starboard,
    /// From aft, port at the left.
    Aft,
}

impl View {
    /// Its caption.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Above => "from above, bow to the right",
            Self::Starboard => "from starboard, bow to the right",
            Self::Aft => "from aft, port at the left",
        }
    }

    /// The key of its frame.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Above => "view.above",
            Self::Starboard => "view.starboard",
            Self::Aft => "view.aft",
        }
    }
}

/// Where the bow and port are in the bay.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearings {
    /// Towards the bow.
    pub bow: Place,
    /// To port.
    pub port: Place,
}

impl Bearings {
    /// By where x and y point, in words: `forward`, `to port`. `None` where those words leave it open.
    #[must_use]
    pub fn of(axes: &[String; 2]) -> Option<Bearings> {
        let mut bow = None;
        let mut port = None;
        let units = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]];
        for (word, unit) in axes.iter().zip(units) {
            match word.as_str() {
                "forward" => bow = Some(unit),
                "aft" => bow = Some(times(unit, -1.0)),
                "to port" => port = Some(unit),
                "to starboard" => port = Some(times(unit, -1.0)),
                _ => return None,
            }
        }
        Some(Bearings {
            bow: bow?,
            port: port?,
        })
    }

    /// How one looks at the bay.
    #[must_use]
    pub fn look(&self, view: View) -> Look {
        let up = [0.0, 0.0, 1.0];
        let (right, up, near) = match view {
            View::Above => (self.bow, self.port, up),
            View::Starboard => (self.bow, up, times(self.port, -1.0)),
            View::Aft => (times(self.port, -1.0), up, times(self.bow, -1.0)),
        };
        Look { right, up, near }
    }

    /// A direction in words: `forward`, `aft and down`.
    #[must_use]
    pub fn words(&self, way: Place) -> String {
        let sides = [
            (dot(way, self.bow), "forward", "aft"),
            (dot(way, self.port), "to port", "to starboard"),
            (dot(way, [0.0, 0.0, 1.0]), "up", "down"),
        ];
        let mut sides: Vec<(f64, &str)> = sides
            .into_iter()
            .map(|(along, ahead, back)| (along.abs(), if along < 0.0 { back } else { ahead }))
            .collect();
        sides.sort_by(|one, other| other.0.total_cmp(&one.0));
        match sides.as_slice() {
            // The second counts from about 25° off the first.
            [(most, first), (next, second), ..] if *next > 0.42 && *most > 0.0 => {
                format!("{first} and {second}")
            }
            [(_, first), ..] => (*first).to_owned(),
            [] => String::new(),
        }
    }
}

/// What is right, up and near for whoever looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// To the right.
    pub right: Place,
    /// Up.
    pub up: Place,
    /// Towards the one who looks.
    pub near: Place,
}

impl Look {
    /// A place as it is seen: right, up, near [m].
    #[must_use]
    pub fn at(&self, place: Place) -> Place {
        [
            dot(place, self.right),
            dot(place, self.up),
            dot(place, self.near),
        ]
    }
}

pub(super) fn dot(one: Place, other: Place) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

pub(super) fn times([x, y, z]: Place, by: f64) -> Place {
    [x * by, y * by, z * by]
}

pub(super) fn minus([a, b, c]: Place, [x, y, z]: Place) -> Place {
    [a - x, b - y, c - z]
}

pub(super) fn cross([a, b, c]: Place, [x, y, z]: Place) -> Place {
    [b * z - c * y, c * x - a * z, a * y - b * x]
}

/// How far two places lie apart [m].
pub(super) fn apart(one: Place, other: Place) -> f64 {
    let way = minus(one, other);
    dot(way, way).sqrt()
}

/// The unit vector along a way; `None` where it has no length.
pub(super) fn unit(way: Place) -> Option<Place> {
    let long = dot(way, way).sqrt();
    (long > 1e-12).then(|| times(way, 1.0 / long))
}
