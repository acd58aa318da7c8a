use bay::Vec3;
use bay::rod::*;

fn arch(chord: f64, n: usize) -> Rod {
    let a = End { at: Vec3::ZERO, along: Vec3::X };
    let b = End { at: Vec3::new(chord, 0.0, 0.0), along: -Vec3::X };
    let mut rod = Rod::between(a, b, 1.0, 1.0, 0.0);
    rod.edges = n;
    rod
}

#[test]
fn explore() {
    for (chord, mid, k, p) in [
        (0.95, 0.140111, 2.83682, 40.494),
        (0.9, 0.194924, 4.05153, 41.5703),
        (0.6, 0.348713, 8.66443, 49.6938),
        (0.4, 0.389972, 11.20967, 57.4896),
        (0.0, 0.391594, 16.87698, 86.1963),
    ] {
        for n in [60, 120] {
            let begin = std::time::Instant::now();
            let mut lays = Vec::new();
            for _ in 0..20 {
                lays = settle(&arch(chord, n), &OpenAir).expect("settles");
            }
            let ms = begin.elapsed().as_secs_f64() * 50.0;
            let begin = std::time::Instant::now();
            for _ in 0..20 {
                settle_from(&arch(chord, n), &OpenAir, &lays[0]).expect("settles");
            }
            let warm = begin.elapsed().as_secs_f64() * 50.0;
            println!("chord {chord} n {n}: {} found, {ms:.2} ms, warm {warm:.3} ms", lays.len());
            for lay in &lays {
                let mid_at = lay.sag.highest.distance(lay.sag.lowest);
                let middle = (lay.points[(n + 1) / 2] + lay.points[(n + 1) / 2 + 1]) / 2.0;
                let off = (middle.y * middle.y + middle.z * middle.z).sqrt();
                println!(
                    "  E {:.6} stable {} neutral {} k {:.5} ({:.3} %) mid {:.6} ({:.3} %) P {:.4} ({:.3} %) M {:.5} {:.5} res {:.1e} eig {:.3e} {mid_at:.3}",
                    lay.energy, lay.stable, lay.neutral,
                    1.0 / lay.bend.radius, 100.0 * (1.0 / lay.bend.radius / k - 1.0),
                    off, 100.0 * (off / mid - 1.0),
                    -lay.force_a.x, 100.0 * (-lay.force_a.x / p - 1.0),
                    lay.moment_a.length(), lay.moment_b.length(),
                    lay.residual, lay.least_stiffness,
                );
            }
        }
    }
    // A hanging hose.
    let a = End { at: Vec3::ZERO, along: Vec3::X };
    let b = End { at: Vec3::new(0.4, 0.1, 0.15), along: Vec3::new(0.0, 0.0, 1.0) };
    let rod = Rod::between(a, b, 0.75, 1.2, 17.0);
    let begin = std::time::Instant::now();
    let lays = settle(&rod, &OpenAir).expect("settles");
    println!("{:?}", begin.elapsed());
    for lay in &lays {
        println!("E {:.6} stable {} r {:.4} Fa {:?} Ma {:?} Fb {:?} Mb {:?} res {:.1e} eig {:.3}", lay.energy, lay.stable, lay.bend.radius, lay.force_a, lay.moment_a, lay.force_b, lay.moment_b, lay.residual, lay.least_stiffness);
    }
}
