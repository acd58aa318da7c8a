//! Clips by name and number: from the tables, from the owner's shelf, as decided in the file.

use boat::Metal;
use quantity::Length;
use reference::clip::{Clip, ClipKind, clip_by_range, clip_by_size, standard_clips};

use crate::stages::types::{ClipFacts, ClipWanted};

/// The word by which a kind of clip is written in the file.
fn word(kind: ClipKind) -> &'static str {
    crate::stages::types::clip_word(kind).word()
}

/// Millimetres as a size is written: to a tenth, without a trailing nought.
pub(super) fn short_mm(length: Length) -> String {
    format!("{}", (length.to_mm() * 10.0).round() / 10.0)
}

/// A clip as one writes it: `worm 32-50 316`, `single-ear 19.8`, `spring 36`.
fn name(
    kind: ClipKind,
    range: Option<(Length, Length)>,
    size: Option<Length>,
    metal: Option<Metal>,
) -> String {
    let mut text = word(kind).to_owned();
    if let Some((closed, open)) = range {
        text += &format!(" {}-{}", short_mm(closed), short_mm(open));
    } else if let Some(size) = size {
        text += &format!(" {}", short_mm(size));
    }
    match metal {
        Some(Metal::Stainless304) => text += " 304",
        Some(Metal::Stainless316) => text += " 316",
        Some(metal) => text += &format!(" {}", metal.word()),
        None => {}
    }
    text
}

/// A clip of the tables.
fn of_table(clip: &Clip) -> ClipFacts {
    let size = match clip.kind {
        ClipKind::SingleEar => Some(clip.open),
        ClipKind::SpringBand => clip.nominal,
        ClipKind::WormDrive | ClipKind::TwoEar | ClipKind::TBolt => None,
    };
    let range = size.is_none().then_some((clip.closed, clip.open));
    ClipFacts {
        kind: clip.kind,
        name: name(clip.kind, range, size, None),
        series: clip.standard.to_owned(),
        closed: clip.closed,
        open: clip.open,
        nominal: clip.nominal,
        band: clip.band,
        metal: None,
        own: false,
        source: clip.source.cite(),
    }
}

/// All clips of a kind that are sold, by series and then by size.
pub(super) fn sold(kind: ClipKind) -> Vec<ClipFacts> {
    standard_clips(kind).iter().map(of_table).collect()
}

/// Why a clip of the file can't be looked up.
pub(super) struct Unlisted {
    /// What is not known of it.
    pub(super) why: String,
    /// What would settle it.
    pub(super) how: String,
}

/// A clip of the file with its numbers: as typed where a range is typed, else from the tables.
pub(super) fn look_up(wanted: &ClipWanted, own: bool) -> Result<ClipFacts, Unlisted> {
    let text = name(wanted.kind, wanted.range, wanted.size, wanted.metal);
    let listed = match (wanted.range, wanted.size) {
        (Some((closed, open)), _) => clip_by_range(wanted.kind, closed, open).map(of_table),
        (None, Some(size)) => clip_by_size(wanted.kind, size).map(of_table),
        (None, None) => None,
    };
    if let Some(mut clip) = listed {
        clip.name = text;
        clip.own = own;
        clip.band = wanted.band.or(clip.band);
        clip.metal = wanted.metal;
        return Ok(clip);
    }
    match wanted.range {
        Some((closed, open)) if Length::mm(0.0) <= closed && closed < open => Ok(ClipFacts {
            kind: wanted.kind,
            name: text,
            series: if own { "own stock" } else { "as written in the file" }.to_owned(),
            closed,
            open,
            nominal: None,
            band: wanted.band,
            metal: wanted.metal,
            own,
            source: reference::source::owner().cite(),
        }),
        Some(_) => Err(Unlisted {
            why: format!("{text} does not open further than it closes"),
            how: "Write the range printed on the clip, closed first: `worm 32-50`.".into(),
        }),
        None => Err(Unlisted {
            why: format!("what {text} closes and opens to stands in no table"),
            how: "Write the range printed on the clip, or measure it closed and open: `two-ear 40-43`.".into(),
        }),
    }
}
