//! Hashes that stay the same from run to run and from version to version of the compiler.

use std::hash::{Hash, Hasher};

/// FNV-1a over 64 bits. The standard library keeps its own hash free to change, and a seed must not.
/// Source: G. Fowler, L. C. Noll, K.-P. Vo, FNV hash, offset basis and prime for 64 bits.
#[derive(Clone, Debug)]
pub(crate) struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Hasher for Fnv {
    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    fn finish(&self) -> u64 {
        self.0
    }
}

/// The seed of one subject: it hangs on the caller's seed and the subject's key path alone, so a
/// new joint moves no other joint's chance.
pub(crate) fn seed_of(seed: u64, key: &str) -> u64 {
    let mut hash = Fnv::default();
    hash.write(&seed.to_le_bytes());
    hash.write(key.as_bytes());
    hash.finish()
}

/// The hash of an input, by which its answer is remembered.
pub(crate) fn hash_of<T: Hash>(input: &T) -> u64 {
    let mut hash = Fnv::default();
    input.hash(&mut hash);
    hash.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Test values printed with the hash's definition: the empty text, `a` and `foobar`.
    #[test]
    fn fnv_gives_its_published_values() {
        let of = |text: &str| {
            let mut hash = Fnv::default();
            hash.write(text.as_bytes());
            hash.finish()
        };
        assert_eq!(of(""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(of("a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(of("foobar"), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn a_seed_hangs_on_seed_and_key_alone() {
        assert_eq!(seed_of(1, "hot.from"), seed_of(1, "hot.from"));
        assert_ne!(seed_of(1, "hot.from"), seed_of(2, "hot.from"));
        assert_ne!(seed_of(1, "hot.from"), seed_of(1, "hot.to"));
    }
}
