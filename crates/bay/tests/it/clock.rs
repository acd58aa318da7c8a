//! The clip's frame and its clock, against what a viewer standing there has at his right hand.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use bay::Vec3;
use bay::clock::{ClipFrame, Clock, FrameError, Seen, free_words, screw_head, sides};

const UP: Vec3 = Vec3::Z;

fn frame(axis: Vec3) -> ClipFrame {
    ClipFrame::new(Vec3::ZERO, axis, Vec3::X).expect("a frame")
}

/// What o'clock a direction is at for someone who looks along `gaze` with his head up: worked out from his
/// right hand, not from the frame.
fn seen_at(gaze: Vec3, direction: Vec3) -> f64 {
    let right = gaze.cross(UP).normalize();
    let above = right.cross(gaze);
    let clockwise = direction.dot(right).atan2(direction.dot(above));
    (clockwise / TAU * 12.0).rem_euclid(12.0)
}

fn apart(a: f64, b: f64) -> f64 {
    let d = (a - b).rem_euclid(12.0);
    d.min(12.0 - d)
}

#[test]
fn the_clock_is_what_a_viewer_sees_from_either_end() {
    let axes = [
        Vec3::X,
        -Vec3::X,
        Vec3::Y,
        Vec3::new(0.4, -0.8, 0.3),
        Vec3::new(-0.2, 0.1, -0.9),
    ];
    for axis in axes {
        let frame = frame(axis);
        for n in 0..24 {
            let angle = TAU * f64::from(n) / 24.0;
            let direction = frame.radial(angle);
            let before = Clock::of(angle, Seen::FromOpenEnd).minutes() / 60.0;
            let behind = Clock::of(angle, Seen::FromBehind).minutes() / 60.0;
            assert!(apart(before, seen_at(-frame.axis(), direction)) < 1e-9);
            assert!(apart(behind, seen_at(frame.axis(), direction)) < 1e-9);
        }
    }
}

#[test]
fn a_quarter_turn_of_the_angle_is_nine_o_clock() {
    assert_eq!(
        Clock::of(FRAC_PI_2, Seen::FromOpenEnd).half_hour(),
        (9, false)
    );
    assert_eq!(
        Clock::of(FRAC_PI_2, Seen::FromBehind).half_hour(),
        (3, false)
    );
    assert_eq!(Clock::of(0.0, Seen::FromOpenEnd).half_hour(), (12, false));
    assert_eq!(Clock::of(PI, Seen::FromOpenEnd).half_hour(), (6, false));
}

#[test]
fn from_the_wrong_end_every_hour_but_six_and_twelve_is_another() {
    for hour in 1..=12 {
        let clock = Clock::hours(hour, 0, Seen::FromOpenEnd);
        let other = clock.from_other_end();
        assert_eq!(other.seen(), Seen::FromBehind);
        let same = other.half_hour() == clock.half_hour();
        assert_eq!(same, hour == 6 || hour == 12, "{hour}");
        // It is the same place all the same.
        assert!((other.angle() - clock.angle()).abs() < 1e-9);
        assert_ne!(other.words(), clock.words());
    }
}

#[test]
fn hours_and_angles_go_both_ways() {
    for minutes in (0..720).step_by(7) {
        let clock = Clock::hours(minutes / 60, minutes % 60, Seen::FromBehind);
        let back = Clock::of(clock.angle(), Seen::FromBehind);
        let off = (back.minutes() - f64::from(minutes)).abs();
        assert!(off.min(720.0 - off) < 1e-9, "{minutes}");
    }
}

#[test]
fn words_say_from_where_it_is_seen() {
    let four = Clock::hours(4, 0, Seen::FromOpenEnd).angle();
    assert_eq!(
        screw_head(four, Seen::FromOpenEnd),
        "screw head at 4 o'clock seen from the open end of the spigot"
    );
    assert_eq!(
        screw_head(four, Seen::FromBehind),
        "screw head at 8 o'clock seen from behind the spigot"
    );
    assert_eq!(Clock::hours(11, 50, Seen::FromBehind).short(), "12 o'clock");
    assert_eq!(
        Clock::hours(12, 20, Seen::FromBehind).short(),
        "half past 12"
    );
}

#[test]
fn free_words_round_inward() {
    let at = |hour, minutes| Clock::hours(hour, minutes, Seen::FromOpenEnd).angle();
    // Against the clock the angle grows: 5:10 comes before 2:20.
    let (from, to) = (at(5, 10), at(2, 20));
    assert!(to > from);
    assert_eq!(
        free_words(from, to, Seen::FromOpenEnd),
        "free 2½ to 5 seen from the open end of the spigot"
    );
    assert_eq!(
        free_words(from, to, Seen::FromBehind),
        "free 7 to 9½ seen from behind the spigot"
    );
    // Through twelve.
    let through = free_words(at(1, 40) - TAU, at(10, 50), Seen::FromOpenEnd);
    assert!(through.starts_with("free 11 to 1½ "), "{through}");
    // Ends on half hours stay.
    let exact = free_words(at(4, 0), at(3, 0), Seen::FromOpenEnd);
    assert!(exact.starts_with("free 3 to 4 "), "{exact}");
    // Narrower than from one half hour to the next.
    let narrow = free_words(at(3, 20), at(3, 10), Seen::FromOpenEnd);
    assert!(
        narrow.starts_with("free close about half past 3"),
        "{narrow}"
    );
    let one = free_words(at(3, 40), at(3, 10), Seen::FromOpenEnd);
    assert!(one.starts_with("free at 3½"), "{one}");
    assert!(free_words(1.0, 1.0 + TAU, Seen::FromBehind).starts_with("free all round"));
}

#[test]
fn an_upright_spigot_has_the_bow_at_twelve() {
    let bow = Vec3::new(0.0, 1.0, 0.0);
    let upright = ClipFrame::new(Vec3::ZERO, Vec3::Z, bow).expect("a frame");
    assert!((upright.radial(0.0) - bow).length() < 1e-12);
    // 7.9° off the upright: still the bow. 8.3° off: up again.
    let leant = |degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        ClipFrame::new(Vec3::ZERO, Vec3::new(sin, 0.0, -cos), bow).expect("a frame")
    };
    assert!(leant(7.9).radial(0.0).dot(bow) > 0.99);
    assert!(leant(8.3).radial(0.0).dot(Vec3::Z) > 0.1);
}

#[test]
fn the_angle_of_a_direction_is_the_one_that_points_there() {
    let frame = frame(Vec3::new(0.3, 0.5, -0.2));
    for n in 0..17 {
        let angle = TAU * f64::from(n) / 17.0;
        let found = frame
            .angle_of(frame.radial(angle) * 3.0 + frame.axis())
            .expect("an angle");
        assert!((found - angle).abs() < 1e-9);
        // The tangent is the way in which it grows.
        let later = frame.radial(angle + 1e-6) - frame.radial(angle);
        assert!((later * 1e6 - frame.tangent(angle)).length() < 1e-5);
    }
    assert_eq!(frame.angle_of(frame.axis()), None);
}

#[test]
fn what_is_no_direction_is_refused() {
    let none = ClipFrame::new(Vec3::ZERO, Vec3::ZERO, Vec3::X);
    assert_eq!(none.err(), Some(FrameError::NoAxis));
    let nan = ClipFrame::new(Vec3::ZERO, Vec3::new(f64::NAN, 0.0, 0.0), Vec3::X);
    assert_eq!(nan.err(), Some(FrameError::NoAxis));
    let along = ClipFrame::new(Vec3::ZERO, Vec3::Z, Vec3::Z);
    assert_eq!(along.err(), Some(FrameError::NoTwelve));
}

#[test]
fn sides_of_the_boat() {
    // The bow lies along x: port is at +y, for z is up.
    let of = |x, y, z| sides(Vec3::new(x, y, z), Vec3::X);
    assert_eq!(of(-1.0, 0.0, 0.0).as_deref(), Some("aft"));
    assert_eq!(of(0.0, -1.0, 0.0).as_deref(), Some("starboard"));
    assert_eq!(of(0.0, 1.0, 0.2).as_deref(), Some("port"));
    assert_eq!(of(-0.6, -0.5, 0.0).as_deref(), Some("aft and starboard"));
    assert_eq!(of(0.0, 0.5, -0.9).as_deref(), Some("below and port"));
    assert_eq!(of(0.0, 0.0, 0.0), None);
    assert_eq!(sides(Vec3::X, Vec3::Z), None);
}
