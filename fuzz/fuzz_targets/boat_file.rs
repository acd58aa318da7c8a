//! Any text as a boat file: reading, arranging and editing it must not panic.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let (boat, places, remarks) = boat::read(text);
    for remark in &remarks {
        let at = places.position_of(remark.span.start);
        assert!(at.line >= 1 && at.column >= 1);
    }
    for step in &boat.arrangements {
        let _ = boat.arranged(Some(&step.key));
    }
    let _ = boat::set_value(text, "joints.\"hot.from\".clip", "\"worm 32-50\"");
});
