//! When a clip is worked, and so which other hoses are in.

/// When a clip is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moment {
    /// When its hose is fitted: the hoses that come before it are in.
    Fitting,
    /// When everything is in: to tighten it again.
    AllIn,
    /// When this hose alone is to come out: all others are in.
    OutAlone,
}

impl Moment {
    /// The moment in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Fitting => "when it is fitted",
            Self::AllIn => "when all is in",
            Self::OutAlone => "to take this hose alone out",
        }
    }

    /// The other hoses that are in when the clips of `own` are worked, in an order of fitting. At fitting
    /// a hose that is not in the order has none before it.
    pub fn others(self, own: usize, order: &[usize]) -> Vec<usize> {
        match self {
            Self::Fitting if order.contains(&own) => order
                .iter()
                .copied()
                .take_while(|hose| *hose != own)
                .collect(),
            Self::Fitting => Vec::new(),
            Self::AllIn | Self::OutAlone => {
                order.iter().copied().filter(|hose| *hose != own).collect()
            }
        }
    }
}
