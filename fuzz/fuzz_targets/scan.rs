//! Any bytes as a scan of each format: reading must not panic, and what is read is whole.
#![no_main]

use hosewright::scan::read_bytes;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let beside = |_: &str| Some(bytes.to_vec());
    for name in ["bay.glb", "bay.obj", "bay.ply", "bay.stl"] {
        if let Ok(scan) = read_bytes(name, bytes, &beside) {
            let count = scan.points.len();
            assert!(!scan.triangles.is_empty());
            assert!(scan.points.as_flattened().iter().all(|part| part.is_finite()));
            assert!(scan.triangles.as_flattened().iter().all(|corner| (*corner as usize) < count));
        }
    }
});
