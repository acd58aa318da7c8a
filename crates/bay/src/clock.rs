//! Where about a hose a clip's screw stands: the clip's frame, its clock, and the words for both.
//!
//! An angle about an axis means nothing before it is said from where one looks: seen from the other end
//! every clock but 6 and 12 is another. So a [`Clock`] always carries its [`Seen`], and its words say it.

use std::f64::consts::TAU;

use crate::Vec3;

/// An axis stands upright where the cosine of its angle to the upright is more than this (8.1°): there 12
/// o'clock is the bow.
pub const UPRIGHT: f64 = 0.99;

/// Minutes of a whole turn of the hour hand.
const TURN: f64 = 720.0;

/// What a clip's frame cannot be made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FrameError {
    /// The axis has no length, or a number of it is not finite.
    #[error("the clip's axis points nowhere: give a direction")]
    NoAxis,
    /// 12 o'clock would lie along the axis itself, or the direction ahead is no direction.
    #[error("the direction ahead lies along the clip's axis: 12 o'clock has no place")]
    NoTwelve,
}

/// The frame of a clip: a place on the hose's centre line, the axis outward from the spigot into the
/// hose, and the direction in which the angle is nought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClipFrame {
    at: Vec3,
    axis: Vec3,
    zero: Vec3,
    quarter: Vec3,
}

impl ClipFrame {
    /// The frame of a clip at `at` (m) on a hose that leaves its spigot along `axis`. The angle is nought
    /// straight up; where the axis itself is upright (see [`UPRIGHT`]) it is nought towards `ahead`, the
    /// direction of the bow.
    ///
    /// # Errors
    /// Where `axis` is no direction, or `ahead` is needed and lies along it.
    pub fn new(at: Vec3, axis: Vec3, ahead: Vec3) -> Result<Self, FrameError> {
        let axis = unit(axis).ok_or(FrameError::NoAxis)?;
        let up = Vec3::new(0.0, 0.0, 1.0);
        let twelve = if axis.z.abs() > UPRIGHT { ahead } else { up };
        let zero = unit(twelve)
            .and_then(|twelve| unit(twelve - axis * twelve.dot(axis)))
            .ok_or(FrameError::NoTwelve)?;
        Ok(Self {
            at,
            axis,
            zero,
            quarter: axis.cross(zero),
        })
    }

    /// The clip's place on the centre line of the hose, m.
    pub fn at(&self) -> Vec3 {
        self.at
    }

    /// The unit direction from the spigot into the hose.
    pub fn axis(&self) -> Vec3 {
        self.axis
    }

    /// The unit direction outward at an angle (rad, right-handed about the axis).
    pub fn radial(&self, angle: f64) -> Vec3 {
        self.zero * angle.cos() + self.quarter * angle.sin()
    }

    /// The unit direction round the hose at an angle (rad), the way in which the angle grows.
    pub fn tangent(&self, angle: f64) -> Vec3 {
        self.quarter * angle.cos() - self.zero * angle.sin()
    }

    /// The angle (rad, 0 to 2π) at which a direction points away from the axis; `None` along the axis.
    pub fn angle_of(&self, direction: Vec3) -> Option<f64> {
        let across = unit(direction - self.axis * direction.dot(self.axis))?;
        Some(
            across
                .dot(self.quarter)
                .atan2(across.dot(self.zero))
                .rem_euclid(TAU),
        )
    }
}

fn unit(v: Vec3) -> Option<Vec3> {
    let length = v.length();
    (length.is_finite() && length > 1e-12).then(|| v / length)
}

/// From which end one looks along the hose's axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// From the hose, into the open end of the spigot: against the axis. The end from which one stands
    /// before the joint.
    FromOpenEnd,
    /// From behind the spigot, along the axis into the hose.
    FromBehind,
}

impl Seen {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::FromOpenEnd => "seen from the open end of the spigot",
            Self::FromBehind => "seen from behind the spigot",
        }
    }

    /// The other end.
    pub fn other(self) -> Self {
        match self {
            Self::FromOpenEnd => Self::FromBehind,
            Self::FromBehind => Self::FromOpenEnd,
        }
    }
}

/// A position about a hose as the hour hand of a clock would show it, and from where it is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    minutes: f64,
    seen: Seen,
}

impl Clock {
    /// The clock of an angle of a [`ClipFrame`] (rad, right-handed about the outward axis). Seen from the
    /// open end one looks against the axis, so the angle grows against the clock.
    pub fn of(angle: f64, seen: Seen) -> Self {
        let turns = match seen {
            Seen::FromOpenEnd => -angle / TAU,
            Seen::FromBehind => angle / TAU,
        };
        Self::at(turns * TURN, seen)
    }

    /// The clock that shows `hours` and `minutes`.
    pub fn hours(hours: u32, minutes: u32, seen: Seen) -> Self {
        Self::at(f64::from(hours) * 60.0 + f64::from(minutes), seen)
    }

    fn at(minutes: f64, seen: Seen) -> Self {
        let minutes = minutes.rem_euclid(TURN);
        // What is a hair under a whole turn may be rounded up to it.
        let minutes = if minutes < TURN { minutes } else { 0.0 };
        Self { minutes, seen }
    }

    /// Minutes since twelve that the hour hand shows, 0 to 720.
    pub fn minutes(self) -> f64 {
        self.minutes
    }

    /// From where it is seen.
    pub fn seen(self) -> Seen {
        self.seen
    }

    /// The angle in the clip's frame, rad, 0 to 2π.
    pub fn angle(self) -> f64 {
        let turns = self.minutes / TURN;
        let angle = match self.seen {
            Seen::FromOpenEnd => -turns * TAU,
            Seen::FromBehind => turns * TAU,
        };
        let angle = angle.rem_euclid(TAU);
        if angle < TAU { angle } else { 0.0 }
    }

    /// The same place seen from the other end.
    pub fn from_other_end(self) -> Self {
        Self::at(-self.minutes, self.seen.other())
    }

    /// The nearest half hour: an hour of 1 to 12, and whether it is half past.
    pub fn half_hour(self) -> (u32, bool) {
        told((self.minutes / 30.0).round())
    }

    /// "4 o'clock" or "half past 4", to the nearest half hour, without from where it is seen: for a place
    /// that says that already.
    pub fn short(self) -> String {
        match self.half_hour() {
            (hour, false) => format!("{hour} o'clock"),
            (hour, true) => format!("half past {hour}"),
        }
    }

    /// "4 o'clock seen from the open end of the spigot".
    pub fn words(self) -> String {
        format!("{} {}", self.short(), self.seen.words())
    }
}

/// "screw head at 4 o'clock seen from the open end of the spigot", for an angle of the clip's frame (rad).
pub fn screw_head(angle: f64, seen: Seen) -> String {
    format!("screw head at {}", Clock::of(angle, seen).words())
}

/// Hour and half of a count of half hours.
fn told(halves: f64) -> (u32, bool) {
    let halves = halves.rem_euclid(24.0);
    let hour = (halves / 2.0).floor();
    let hour = if hour < 1.0 { 12 } else { hour as u32 };
    (hour, halves % 2.0 >= 1.0)
}

/// A range of angles as clock words, rounded inward to half hours: "free 2½ to 5 seen from …". The range
/// goes from `from` to `to` (rad, `to` ≥ `from`) as the angle grows; the words go with the clock. Of a
/// range without a half hour in it the middle is named.
pub fn free_words(from: f64, to: f64, seen: Seen) -> String {
    if to - from >= TAU {
        return format!("free all round {}", seen.words());
    }
    let (first, last) = match seen {
        Seen::FromOpenEnd => (-to, -from),
        Seen::FromBehind => (from, to),
    };
    let in_halves = 24.0 / TAU;
    // A range that ends on a half hour but for rounding keeps it.
    let first_half = (first * in_halves - 1e-9).ceil();
    let last_half = (last * in_halves + 1e-9).floor();
    if last_half < first_half {
        let middle = Clock::of((from + to) / 2.0, seen);
        return format!("free close about {}", middle.words());
    }
    if last_half == first_half {
        let (hour, half) = told(first_half);
        return format!("free at {} {}", figure(hour, half), seen.words());
    }
    let ((h1, half1), (h2, half2)) = (told(first_half), told(last_half));
    format!(
        "free {} to {} {}",
        figure(h1, half1),
        figure(h2, half2),
        seen.words()
    )
}

fn figure(hour: u32, half: bool) -> String {
    if half {
        format!("{hour}½")
    } else {
        hour.to_string()
    }
}

/// From which sides of the boat something comes that lies in `direction` (from the clip to the tool's
/// handle), the strongest first, at most two: "aft and starboard". `ahead` is the direction of the bow; z
/// is up. A side counts from a sine of 0.38 (22.5°) on. `None` where `ahead` is upright or there is no
/// direction.
pub fn sides(direction: Vec3, ahead: Vec3) -> Option<String> {
    let direction = unit(direction)?;
    let up = Vec3::new(0.0, 0.0, 1.0);
    let ahead = unit(ahead - up * ahead.dot(up))?;
    let starboard = ahead.cross(up);
    let mut found: Vec<(f64, &str)> = [
        (direction.dot(ahead), "forward", "aft"),
        (direction.dot(starboard), "starboard", "port"),
        (direction.dot(up), "above", "below"),
    ]
    .into_iter()
    .map(|(share, plus, minus)| (share.abs(), if share < 0.0 { minus } else { plus }))
    .filter(|(share, _)| *share >= 0.38)
    .collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    let names: Vec<&str> = found.into_iter().take(2).map(|(_, name)| name).collect();
    Some(names.join(" and "))
}
