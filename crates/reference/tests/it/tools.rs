//! The free room of tools.

use quantity::{Angle, Length};
use reference::clip::ClipKind;
use reference::support::{support_clip, support_spacing};
use reference::tool::{self, Approach, Tool};

fn mm(value: f64) -> Length {
    Length::mm(value)
}

#[test]
fn every_tool_has_room_and_every_kind_a_tool() {
    assert_eq!(tool::envelopes().len(), Tool::ALL.len());
    for tool in Tool::ALL {
        let envelope = tool::envelope(tool);
        assert_eq!(envelope.tool, tool);
        let room = envelope.needed_room();
        assert!(
            room.along >= mm(40.0) && room.along <= mm(250.0),
            "{tool:?}"
        );
        // What has no width of its own bends, and says where its handle may be.
        assert!(
            room.across.is_some() != room.handle_within.is_some(),
            "{tool:?}"
        );
        assert!(envelope.blade.is_none_or(|blade| blade < envelope.length));
        assert!(!envelope.kinds.is_empty());
        let rings = envelope.kinds.iter().all(|kind| kind.is_ring());
        assert_eq!(envelope.approach != Approach::AlongScrew, rings, "{tool:?}");
    }
    for kind in ClipKind::ALL {
        assert!(!tool::tools_for(kind).is_empty(), "{kind:?}");
    }
}

#[test]
fn rooms_are_those_of_the_tools() {
    let driver = tool::envelope(Tool::Screwdriver);
    assert_eq!((driver.length, driver.blade), (mm(250.0), Some(mm(150.0))));
    assert_eq!(driver.needed_room().across, Some(mm(110.0)));
    assert!(tool::envelope(Tool::StubbyDriver).length < tool::envelope(Tool::NutDriver).length);
    assert_eq!(
        tool::envelope(Tool::NutDriver).off_axis,
        Some(Angle::degrees(10.0))
    );
    let ratchet = tool::envelope(Tool::Ratchet);
    assert_eq!(ratchet.needed_room().across, Some(mm(150.0)));
    assert_eq!(ratchet.least_arc, Some(Angle::degrees(30.0)));
    let flexible = tool::envelope(Tool::FlexibleDriver);
    assert_eq!(flexible.needed_room().handle_within, Some(mm(250.0)));
    let bend = flexible.bend_radius.expect("a bend");
    assert_eq!((bend.low, bend.high), (mm(75.0), mm(100.0)));
    let pincers = tool::envelope(Tool::PincersSide);
    assert_eq!(pincers.height, Some(mm(60.0)));
    assert_eq!(pincers.needed_room().across, Some(mm(120.0)));
}

#[test]
fn the_screw_lies_beside_the_hose_within_its_housing() {
    for fitted in [20.0, 44.0, 80.0] {
        let (screw, housing) = (
            tool::screw_offset(mm(fitted)),
            tool::housing_reach(mm(fitted)),
        );
        assert!((screw - mm(fitted / 2.0 + 6.0)).to_mm().abs() < 1e-9);
        assert!(mm(fitted / 2.0) < screw && screw < housing);
    }
}

#[test]
fn openings_are_taller_for_a_gloved_hand() {
    let opening = |id: &str| {
        tool::openings()
            .iter()
            .find(|opening| opening.id == id)
            .expect("an opening")
    };
    assert_eq!(tool::openings().len(), 8);
    let (bare, gloved) = (opening("clenched-hand"), opening("gloved-hand"));
    assert!(bare.width < gloved.width && bare.height < gloved.height);
    assert_eq!(opening("open-end-wrench").width, mm(265.0));
}

#[test]
fn a_support_takes_the_hose_and_is_the_smallest_that_does() {
    let size = |outside: f64| support_clip(mm(outside)).map(|clip| clip.value.to_mm());
    for (outside, asked) in [
        (23.0, 23.0),
        (23.4, 23.0),
        (23.6, 25.0),
        (47.4, 48.0),
        (4.5, 6.0),
    ] {
        assert_eq!(size(outside).unwrap(), asked, "{outside} mm");
    }
    for outside in [3.0, 90.0] {
        let unknown = size(outside).unwrap_err();
        assert!(unknown.why.contains(" mm"), "{}", unknown.why);
    }
    let spacing = support_spacing();
    assert!(spacing.from_fixed_pipe < spacing.every);
}
