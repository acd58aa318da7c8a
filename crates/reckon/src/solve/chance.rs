//! Chances from limits: a spread that one is sure of, carried through a relation to first order.

/// A number that surely lies between two others; every value between is as likely as any other.
///
/// Its standard uncertainty is half the width over √3. Source: JCGM 100:2008 (GUM), 4.3.7.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Not below.
    pub low: f64,
    /// Not above.
    pub high: f64,
}

impl Spread {
    /// Known exactly.
    pub fn exact(value: f64) -> Self {
        Self {
            low: value,
            high: value,
        }
    }

    /// Half way between.
    pub fn middle(&self) -> f64 {
        self.low / 2.0 + self.high / 2.0
    }

    /// Half the width over √3.
    pub fn standard_uncertainty(&self) -> f64 {
        (self.high / 2.0 - self.low / 2.0) / 3.0_f64.sqrt()
    }

    /// The chance that it is at least a limit, every value between being as likely as any other.
    pub fn at_least(&self, limit: f64) -> f64 {
        if limit <= self.low {
            1.0
        } else if limit > self.high {
            0.0
        } else {
            (self.high - limit) / (self.high - self.low)
        }
    }

    /// A share of the way from low to high.
    pub fn at(&self, share: f64) -> f64 {
        self.low + share * (self.high - self.low)
    }
}

/// The chance that a standard normal number is at most `z`.
///
/// `erfc` is taken from `libm`, the maths library kept by the Rust project: unlike a series of our
/// own it keeps its digits far out in the tails.
pub fn normal_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// The chance that a normal number of this mean and deviation lies within two limits.
/// Without any deviation it lies there or it does not.
pub fn chance_within(mean: f64, deviation: f64, low: f64, high: f64) -> f64 {
    if deviation <= 0.0 {
        return if (low..=high).contains(&mean) {
            1.0
        } else {
            0.0
        };
    }
    // From the nearer tail, so that small chances keep their digits.
    let (low, high) = ((low - mean) / deviation, (high - mean) / deviation);
    let chance = if low > 0.0 {
        normal_below(-low) - normal_below(-high)
    } else {
        normal_below(high) - normal_below(low)
    };
    chance.clamp(0.0, 1.0)
}

/// A result to first order: its mean, and what each input adds to its deviation.
///
/// Source: JCGM 100:2008 (GUM), 5.1.2, for inputs that do not depend on each other. Each part is
/// half the change of the result when its input moves from one standard uncertainty below its
/// middle to one above.
#[derive(Clone, Debug, PartialEq)]
pub struct Linear {
    /// At the middle of all inputs.
    pub mean: f64,
    /// Signed parts, one an input.
    pub parts: Vec<f64>,
}

impl Linear {
    /// Of a relation and the spreads of its inputs.
    pub fn of(inputs: &[Spread], relation: impl Fn(&[f64]) -> f64) -> Self {
        let middle: Vec<f64> = inputs.iter().map(Spread::middle).collect();
        let mut moved = middle.clone();
        let parts = inputs
            .iter()
            .enumerate()
            .map(|(i, input)| {
                let step = input.standard_uncertainty();
                if step == 0.0 {
                    return 0.0;
                }
                moved[i] = middle[i] + step;
                let above = relation(&moved);
                moved[i] = middle[i] - step;
                let below = relation(&moved);
                moved[i] = middle[i];
                (above - below) / 2.0
            })
            .collect();
        Self {
            mean: relation(&middle),
            parts,
        }
    }

    /// Its standard deviation.
    pub fn deviation(&self) -> f64 {
        self.parts
            .iter()
            .map(|part| part * part)
            .sum::<f64>()
            .sqrt()
    }

    /// The chance that the result is at most a limit.
    pub fn at_most(&self, limit: f64) -> f64 {
        chance_within(self.mean, self.deviation(), f64::NEG_INFINITY, limit)
    }

    /// The chance that the result is at least a limit.
    pub fn at_least(&self, limit: f64) -> f64 {
        chance_within(self.mean, self.deviation(), limit, f64::INFINITY)
    }

    /// What share of the variance the marked inputs make up; 0 where there is no variance.
    pub fn share_of(&self, marked: &[bool]) -> f64 {
        let variance: f64 = self.parts.iter().map(|part| part * part).sum();
        if variance == 0.0 {
            return 0.0;
        }
        let theirs: f64 = self
            .parts
            .iter()
            .zip(marked)
            .filter(|(_, marked)| **marked)
            .map(|(part, _)| part * part)
            .sum();
        theirs / variance
    }

    /// The marked input that adds most to the variance.
    pub fn greatest(&self, marked: &[bool]) -> Option<usize> {
        (0..self.parts.len())
            .filter(|&i| marked[i] && self.parts[i] != 0.0)
            .max_by(|&a, &b| self.parts[a].abs().total_cmp(&self.parts[b].abs()))
    }
}

/// The chance that a result keeps two limits on opposite sides, given the chance of each: a
/// result can't break both at once, so what fails adds up.
pub fn opposite(one: f64, other: f64) -> f64 {
    (one + other - 1.0).max(0.0)
}

/// How far sampling and first order may part before it is said.
pub const PARTED: f64 = 0.05;

/// A chance found in two ways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// By first order, with a normal spread.
    pub first_order: f64,
    /// By sampling, where that was done.
    pub sampled: Option<f64>,
    /// What share of the variance guessed inputs make up.
    pub guessed: f64,
}

impl Chance {
    /// The one to go by: sampling where it was done, since it knows steps and bends.
    pub fn value(&self) -> f64 {
        self.sampled.unwrap_or(self.first_order)
    }

    /// Whether the two differ by more than five in a hundred: the limit is a step, or the relation bends.
    pub fn parted(&self) -> bool {
        self.sampled
            .is_some_and(|sampled| (sampled - self.first_order).abs() > PARTED)
    }

    /// Whether guesses decide it: over half the variance is theirs, and the chance is neither
    /// under 2 nor over 98 in a hundred.
    pub fn is_guesswork(&self) -> bool {
        self.guessed > 0.5 && (0.02..=0.98).contains(&self.value())
    }
}
