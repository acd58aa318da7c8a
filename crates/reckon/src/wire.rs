//! Connects the stages: survey → circuit → shape → flow → fit, air, access → order, drain, build,
//! fill, prove, home. This file is the drawn order.

use boat::Boat;

use crate::verdict::Verdict;

/// Which verdicts are wanted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Set {
    /// Those that follow an edit at once.
    Prompt,
    /// All, with sampled chances.
    #[default]
    All,
}

/// All that the answer depends on.
#[derive(Clone, Debug)]
pub struct Input<'a> {
    /// The boat as her file tells it.
    pub boat: &'a Boat,
    /// Which arrangement to judge; `None` for the one the job is about (`after` where there is one, else the file as it stands).
    pub arrangement: Option<&'a str>,
    /// Seed of all sampling.
    pub seed: u64,
    /// Which verdicts.
    pub set: Set,
}

/// What was reckoned before, kept by the caller; keyed by the hash of a stage's input.
#[derive(Debug, Default)]
pub struct Memo {}

/// The whole answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answer {
    /// Every verdict, in the order of the job, then of the file.
    pub verdicts: Vec<Verdict>,
}

/// Reckons the whole answer.
pub fn reckon(_input: &Input, _memo: &mut Memo) -> Answer {
    unimplemented!()
}
