//! The keys of a run: random, compared in constant time, never shown by whatever prints a value for a log.

use std::fmt;

use subtle::ConstantTimeEq as _;

/// Bytes of a key: 128 bits, so that its code is small enough to scan across a cabin.
const BYTES: usize = 16;

/// A key.
#[derive(Clone)]
pub(crate) struct Key(String);

impl Key {
    /// A new one, from the system's own source of chance.
    pub(crate) fn fresh() -> Result<Self, getrandom::Error> {
        let mut bytes = [0u8; BYTES];
        getrandom::fill(&mut bytes)?;
        Ok(Self(
            bytes.iter().map(|byte| format!("{byte:02x}")).collect(),
        ))
    }

    /// Whether this is it. How long that takes tells nothing of where the two differ.
    pub(crate) fn is(&self, given: &str) -> bool {
        self.0.as_bytes().ct_eq(given.as_bytes()).into()
    }

    /// The key itself, for the page of this computer or the code to scan, and for nothing else.
    pub(crate) fn told(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Key(…)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_known_and_never_printed() {
        let (one, other) = (Key::fresh().unwrap(), Key::fresh().unwrap());
        assert_eq!(one.told().len(), 2 * BYTES);
        assert!(one.is(one.told()) && !one.is(other.told()));
        assert!(!one.is("") && !one.is(&one.told()[1..]));
        assert!(!format!("{one:?}").contains(one.told()));
    }
}
