//! The threads of the standards as one lays them on paper: a comb for each pitch, and the sizes that have it.

use quantity::{Quantity, System, show};
use reference::thread::{Family, ThreadSize, sizes};

use crate::say;
use crate::verdict::Words;

/// All threads of one pitch. Flanks of 55° and of 60° look alike on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Comb {
    /// From crest to crest [m].
    pub pitch: f64,
    /// `11 to the inch`, `1.5 mm`.
    pub name: Words,
    /// Angles between the flanks, each once [°].
    pub angles: Vec<f64>,
    /// The sizes, by diameter.
    pub sizes: Vec<CombSize>,
}

/// One size of thread.
#[derive(Clone, Debug, PartialEq)]
pub struct CombSize {
    /// As the standard writes it: `G 1/2`.
    pub name: String,
    /// Angle between the flanks [°].
    pub angle: f64,
    /// Over the crests of a male [m].
    pub male: f64,
    /// Over the crests of a female, which is the bore of its hole [m].
    pub hole: f64,
    /// The same for people.
    pub male_text: Words,
    /// Whence its size.
    pub source: String,
}

/// The combs, by pitch from the coarsest. Sizes that differ only in how they seal have one diameter and
/// stand together.
pub fn combs() -> Vec<Comb> {
    let mut combs: Vec<Comb> = Vec::new();
    for family in [
        Family::G,
        Family::R,
        Family::Npt,
        Family::Npsm,
        Family::Metric,
        Family::Unified,
    ] {
        for size in sizes(family) {
            let pitch = size.pitch.si();
            let known = combs
                .iter_mut()
                .find(|comb| (comb.pitch - pitch).abs() < 1e-6);
            match known {
                Some(comb) => add(comb, size),
                None => {
                    let mut comb = Comb {
                        pitch,
                        name: name(size),
                        angles: Vec::new(),
                        sizes: Vec::new(),
                    };
                    add(&mut comb, size);
                    combs.push(comb);
                }
            }
        }
    }
    combs.sort_by(|a, b| b.pitch.total_cmp(&a.pitch));
    for comb in &mut combs {
        comb.sizes.sort_by(|a, b| a.male.total_cmp(&b.male));
    }
    combs
}

fn add(comb: &mut Comb, size: &ThreadSize) {
    let name = size.designation();
    let angle = size.family.flank_angle().to_degrees();
    if !comb.angles.iter().any(|own| (own - angle).abs() < 0.1) {
        comb.angles.push(angle);
    }
    // R has the diameters of G at its gauge plane: one bar serves both.
    let bare = |name: &str| name.split(' ').next_back().unwrap_or_default().to_owned();
    let same = |own: &&mut CombSize| {
        (own.male - size.major.si()).abs() < 1e-6
            && size.family == Family::R
            && bare(&own.name) == bare(&name)
    };
    if let Some(own) = comb.sizes.iter_mut().find(same) {
        own.name = format!("G, R {}", bare(&name));
        return;
    }
    comb.sizes.push(CombSize {
        name,
        angle,
        male: size.major.si(),
        hole: size.minor.si(),
        male_text: Words::of(|system| say::mm(size.major.si(), system)),
        source: size.source.cite(),
    });
}

fn name(size: &ThreadSize) -> Words {
    match size.per_inch {
        Some(turns) => {
            let turns = (turns * 10.0).round() / 10.0;
            format!("{turns} to the inch").as_str().into()
        }
        None => Words::of(|_| show(size.pitch, None, System::Metric)),
    }
}
