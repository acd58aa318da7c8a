//! Route: how each hose hangs, what it touches, and whether a tool reaches its clips.

mod types;

pub use types::{
    LaidBody, LaidClip, LaidPart, LaidRun, LaidScan, LaidSpot, LayOrder, LeastBend, LeastGap,
    NotLaid, Place, Route, apart,
};
