//! High and low spots, and whether air is carried along.

use std::f64::consts::PI;

use bay::Vec3;
use bay::lie::{Clearing, Kind, clearing, down_at, froude_needed, spots};

use crate::rod_kit::{like, near};

/// A half wave in the plane of x and z.
fn wave(height: f64, points: usize) -> Vec<Vec3> {
    (0..=points)
        .map(|i| {
            let s = i as f64 / points as f64;
            Vec3::new(s, 0.0, height * (PI * s).sin())
        })
        .collect()
}

#[test]
fn a_straight_line_has_no_spot() {
    let line: Vec<Vec3> = (0..30)
        .map(|i| Vec3::new(f64::from(i) * 0.01, 0.0, f64::from(i) * 0.001))
        .collect();
    assert!(spots(&line, 0.03, -Vec3::Z).is_empty());
}

#[test]
fn an_arch_traps_air_and_upside_down_water() {
    let line = wave(0.2, 200);
    let found = spots(&line, 0.03, -Vec3::Z);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].kind, Kind::High);
    near(found[0].at.x, 0.5, 0.01, "where");
    near(found[0].depth, 0.2, 1e-3, "depth");
    let under: Vec<Vec3> = line.iter().map(|p| Vec3::new(p.x, p.y, -p.z)).collect();
    let low = spots(&under, 0.03, -Vec3::Z);
    assert_eq!(low[0].kind, Kind::Low);
    near(low[0].volume, found[0].volume, 1e-12, "volume");
    // A deep trap holds nearly its whole length of bore.
    let length: f64 = line.windows(2).map(|p| (p[1] - p[0]).length()).sum();
    let whole = PI * 0.015 * 0.015 * length;
    assert!(found[0].volume < whole && found[0].volume > 0.93 * whole);
}

#[test]
fn a_shallow_trap_holds_what_a_tilted_gutter_does() {
    // A dip shallower than the bore: at its bottom as deep as the dip, by the area of a segment.
    let (dip, bore, points) = (0.004, 0.04, 4000);
    let line: Vec<Vec3> = wave(-dip, points);
    let found = spots(&line, bore, -Vec3::Z);
    assert_eq!(found.len(), 1);
    // Integrated another way: strips of constant depth.
    let r: f64 = bore / 2.0;
    let mut volume = 0.0;
    for i in 0..20_000 {
        let s = (f64::from(i) + 0.5) / 20_000.0;
        let depth = dip * (PI * s).sin();
        let mut area = 0.0;
        for k in 0..40 {
            let h = depth * (f64::from(k) + 0.5) / 40.0;
            area += 2.0 * (r * r - (r - h) * (r - h)).sqrt() * depth / 40.0;
        }
        volume += area / 20_000.0;
    }
    like(found[0].volume, volume, 0.01, "volume");
}

#[test]
fn trim_moves_the_spots() {
    // Falls gently aft: by the bow down it turns into a rise.
    let line: Vec<Vec3> = (0..=100)
        .map(|i| {
            let s = f64::from(i) / 100.0;
            Vec3::new(s, 0.0, 0.03 * s + 0.01 * (2.0 * PI * s).sin())
        })
        .collect();
    let level = spots(&line, 0.02, down_at(0.0, 0.0)).len();
    let trimmed = spots(&line, 0.02, down_at(6.0_f64.to_radians(), 0.0));
    assert_eq!(level, 2, "a top and a dip");
    assert!(trimmed.len() < 2, "steeper than its wave: {trimmed:?}");
    near(down_at(0.1, 0.2).length(), 1.0, 1e-12, "unit");
}

#[test]
fn running_water_carries_air_or_does_not() {
    // Handbooks of pumping stations quote v = √(g D) (0.825 + 0.25 √sin θ).
    near(froude_needed(0.0).expect("in range"), 0.825, 1e-12, "level");
    near(
        froude_needed(30.0_f64.to_radians()).expect("in range"),
        1.00178,
        1e-5,
        "30° down",
    );
    let slope = 10.0_f64.to_radians();
    assert_eq!(clearing(1.0, 0.038, slope), Clearing::Clears);
    assert_eq!(clearing(0.2, 0.038, slope), Clearing::Stays);
    assert_eq!(clearing(0.5, 0.038, slope), Clearing::Doubtful);
    assert_eq!(clearing(2.0, 0.038, 1.2), Clearing::Unmeasured);
}

/// Pockets of one line hold no more than the line does: equal dips and humps, each by itself.
#[test]
fn pockets_together_hold_no_more_than_the_line() {
    let bore = 0.016;
    let points: Vec<Vec3> = (0..=400)
        .map(|i| {
            let x = f64::from(i) * 0.01;
            Vec3::new(x, 0.0, 0.1 * (2.0 * std::f64::consts::PI * x / 0.8).sin())
        })
        .collect();
    let long: f64 = points
        .windows(2)
        .map(|pair| (pair[1] - pair[0]).length())
        .sum();
    let holds = std::f64::consts::PI / 4.0 * bore * bore * long;
    let found = spots(&points, bore, -Vec3::Z);
    for kind in [Kind::High, Kind::Low] {
        let own: Vec<f64> = found
            .iter()
            .filter(|spot| spot.kind == kind)
            .map(|spot| spot.volume)
            .collect();
        assert!(own.len() >= 4, "{kind:?}: {}", own.len());
        let sum: f64 = own.iter().sum();
        assert!(sum <= 1.001 * holds, "{kind:?}: {sum} of {holds}");
        assert!(sum > 0.2 * holds, "{kind:?}: {sum} of {holds}");
    }
}

/// What a line holds, place by place: filled up to the lower of the greatest heights to either side.
fn filled(points: &[Vec3], bore: f64) -> f64 {
    let z: Vec<f64> = points.iter().map(|point| point.z).collect();
    let mut volume = 0.0;
    for (i, pair) in points.windows(2).enumerate() {
        let level = z[..=i]
            .iter()
            .fold(f64::NEG_INFINITY, |most, z| most.max(*z))
            .min(
                z[i + 1..]
                    .iter()
                    .fold(f64::NEG_INFINITY, |most, z| most.max(*z)),
            );
        // To the bottom of the bore at the sill; strips across the section.
        let way = pair[1] - pair[0];
        let long = way.length();
        let cos = (1.0 - (way.z / long).powi(2)).max(1e-12).sqrt();
        let depth = (level - bore / 2.0 - (pair[0].z + pair[1].z) / 2.0) / cos + bore / 2.0;
        let (radius, strips) = (bore / 2.0, 400);
        let top = depth.clamp(0.0, bore);
        for k in 0..strips {
            let h = top * (f64::from(k) + 0.5) / f64::from(strips);
            let half = (radius * radius - (radius - h).powi(2)).max(0.0).sqrt();
            volume += 2.0 * half * top / f64::from(strips) * long;
        }
    }
    volume
}

/// A line through corners at heights [mm], 400 mm apart and in pieces of 2 mm.
fn through(heights: &[f64]) -> Vec<Vec3> {
    let mut points = Vec::new();
    for (i, pair) in heights.windows(2).enumerate() {
        for k in 0..200 {
            let share = f64::from(k) / 200.0;
            // Level where it turns, as a hose is.
            let smooth = share * share * (3.0 - 2.0 * share);
            points.push(Vec3::new(
                0.4 * (i as f64 + share),
                0.0,
                (pair[0] + (pair[1] - pair[0]) * smooth) * 1e-3,
            ));
        }
    }
    points
}

#[test]
fn a_pocket_in_another_is_counted_once() {
    let bore = 0.025;
    for heights in [
        vec![0.0, -200.0, -20.0, -180.0, 0.0],
        vec![0.0, -180.0, -20.0, -200.0, 0.0],
        vec![0.0, -200.0, -20.0, -180.0, -60.0, -190.0, -100.0],
        vec![0.0, -50.0, 30.0, -120.0, -90.0, -200.0, -40.0, -70.0, 10.0],
    ] {
        let line = through(&heights);
        let volume = |kind: Kind, line: &[Vec3]| -> f64 {
            spots(line, bore, -Vec3::Z)
                .iter()
                .filter(|spot| spot.kind == kind)
                .map(|spot| spot.volume)
                .sum()
        };
        let told = volume(Kind::Low, &line);
        like(told, filled(&line, bore), 0.01, &format!("{heights:?}"));
        // Upside down it holds as much air.
        let over: Vec<Vec3> = line.iter().map(|p| Vec3::new(p.x, p.y, -p.z)).collect();
        like(volume(Kind::High, &over), told, 1e-9, "air");
    }
    // The lesser dip is told all the same: it has to be drained by itself.
    let found = spots(&through(&[0.0, -200.0, -20.0, -180.0, 0.0]), bore, -Vec3::Z);
    let lows: Vec<_> = found.iter().filter(|spot| spot.kind == Kind::Low).collect();
    assert_eq!(lows.len(), 2);
    near(
        lows[1].volume,
        0.0,
        0.0,
        "what the greater one holds already",
    );
    near(lows[1].depth, 0.16, 1e-3, "depth of its own");
}

/// A tube that stands upright at both ends is full to the brim, exactly: volume of a cylinder bent along its middle.
#[test]
fn an_upright_tube_is_full_to_its_brim() {
    let (leg, radius, bore) = (0.2, 0.1, 0.02);
    let mut points = vec![Vec3::ZERO, Vec3::new(0.0, 0.0, -leg / 2.0)];
    for step in 0..=180 {
        let angle = f64::from(step).to_radians();
        points.push(Vec3::new(
            radius * (1.0 - angle.cos()),
            0.0,
            -leg - radius * angle.sin(),
        ));
    }
    points.push(Vec3::new(2.0 * radius, 0.0, 0.0));
    let found = spots(&points, bore, -Vec3::Z);
    assert_eq!(found.len(), 1);
    let whole = PI * bore * bore / 4.0 * (2.0 * leg + PI * radius);
    let held = found[0].volume;
    assert!((held / whole - 1.0).abs() < 1e-3, "{held} of {whole}");
}
