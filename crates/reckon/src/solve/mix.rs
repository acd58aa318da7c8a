//! Filling a circuit in which something stayed: how much concentrate, how much water, how many flushes.
//!
//! Volumes are in any one unit throughout a call and simply add: what mixing takes away is told by
//! the densities, not here. Shares are of concentrate by volume, 0 to 1.

/// A circuit to be filled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fill {
    /// What the circuit holds in all.
    pub volume: f64,
    /// What is in it already.
    pub inside: f64,
    /// Share of concentrate in that.
    pub inside_share: f64,
    /// Share of concentrate wanted in the end.
    pub wanted: f64,
    /// Share of concentrate in what is bought.
    pub product: f64,
}

/// How to come to the mix that is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Recipe {
    /// Pour so much of the product first, then so much water.
    Pour {
        /// Product.
        product: f64,
        /// Water.
        water: f64,
    },
    /// Not even the product alone would do: drain so much more first. What then goes in is product alone.
    NoRoom {
        /// To be drained.
        drain: f64,
        /// Product to be poured after that.
        product: f64,
    },
    /// What is inside is too rich already: drain so much of it first. What then goes in is water alone.
    TooRich {
        /// To be drained.
        drain: f64,
        /// Water to be poured after that.
        water: f64,
    },
    /// The product is weaker than the mix that is wanted.
    ProductTooWeak,
}

/// Rounding in the last places is neither too little room nor too rich.
const HAIR: f64 = 1e-9;

impl Fill {
    /// How to come to the mix that is wanted; `None` where the numbers fit no circuit.
    pub fn recipe(&self) -> Option<Recipe> {
        let Self {
            volume,
            inside,
            inside_share,
            wanted,
            product,
        } = *self;
        let share = |x: f64| (0.0..=1.0).contains(&x);
        let fit = volume > 0.0
            && volume.is_finite()
            && (0.0..=volume * (1.0 + HAIR)).contains(&inside)
            && [inside_share, wanted, product].into_iter().all(share)
            && product > 0.0;
        if !fit {
            return None;
        }
        if wanted > product + HAIR && inside_share < wanted {
            return Some(Recipe::ProductTooWeak);
        }
        let poured = (wanted * volume - inside_share * inside) / product;
        let water = volume - inside - poured;
        let hair = HAIR * volume;
        if poured < -hair {
            let kept = wanted * volume / inside_share;
            return Some(Recipe::TooRich {
                drain: inside - kept,
                water: volume - kept,
            });
        }
        if water < -hair {
            // Drained until the rest is filled by product alone. Of the same strength as what is
            // inside the product changes nothing, however much is drained.
            if product - inside_share <= HAIR {
                return Some(Recipe::ProductTooWeak);
            }
            let short = wanted * volume - inside_share * inside - product * (volume - inside);
            let drain = short / (product - inside_share);
            return Some(Recipe::NoRoom {
                drain,
                product: volume - inside + drain,
            });
        }
        Some(Recipe::Pour {
            product: poured.max(0.0),
            water: water.max(0.0),
        })
    }

    /// The share that comes out where the rest is filled up with a mix of this share.
    pub fn topped_up(&self, share: f64) -> f64 {
        (self.inside_share * self.inside + share * (self.volume - self.inside)) / self.volume
    }
}

/// How much is drained and replaced by product, so that a circuit that is full comes to the share wanted;
/// `None` where the product can't bring it there, or it is rich enough.
pub fn swap(volume: f64, now: f64, wanted: f64, product: f64) -> Option<f64> {
    let able = volume > 0.0 && product > wanted && wanted > now && now >= 0.0;
    able.then(|| volume * (wanted - now) / (product - now))
}

/// What is left of a concentration after draining the share `drained` and filling with `fresh`, so many times.
pub fn left_after(before: f64, fresh: f64, drained: f64, times: u32) -> f64 {
    let stays = (1.0 - drained).powf(f64::from(times));
    fresh + (before - fresh) * stays
}

/// How many times one drains and fills until no more is left than wanted; `None` where that never comes:
/// nothing drains, or the fresh water holds as much itself.
pub fn flushes(before: f64, fresh: f64, wanted: f64, drained: f64) -> Option<u32> {
    if before <= wanted {
        return Some(0);
    }
    if !(drained > 0.0 && drained <= 1.0) || fresh >= wanted {
        return None;
    }
    if drained == 1.0 {
        return Some(1);
    }
    let times = ((wanted - fresh) / (before - fresh)).ln() / (1.0 - drained).ln();
    // What rounding puts a hair over a whole number is that number.
    Some((times - HAIR).ceil().max(1.0) as u32)
}
