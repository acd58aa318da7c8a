//! Threads: the arithmetic between size, turns and diameters, what mates, what seals, and the rows.

use std::collections::BTreeSet;

use quantity::{Length, NominalSize, Ratio};
use reference::mate::{SealsOn, mates, matings};
use reference::metal::Alloy;
use reference::seal::{self, SealPlace};
use reference::thread::{self, Family, ThreadSex, ThreadSize};
use reference::{Limits, Status};
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error, StrDeserializer};

use crate::rows::{Answer, Row};

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn inch(text: &str) -> NominalSize {
    NominalSize::parse(text).expect("a size")
}

fn find(family: Family, text: &str) -> &'static ThreadSize {
    thread::size(family, inch(text), None).unwrap_or_else(|| panic!("no {family:?} {text}"))
}

#[track_caller]
fn near(a: Length, b: Length, within_mm: f64) {
    let away = (a - b).to_mm().abs();
    assert!(
        away <= within_mm,
        "{} mm and {} mm are {away} mm apart",
        a.to_mm(),
        b.to_mm()
    );
}

fn word<T: for<'a> Deserialize<'a>>(row: &Row, input: &str) -> T {
    let text: StrDeserializer<'_, Error> = row.text(input).into_deserializer();
    T::deserialize(text).unwrap_or_else(|error| panic!("{}: {error}", row.place))
}

fn nominal(row: &Row) -> NominalSize {
    NominalSize::parse(row.text("size")).unwrap_or_else(|error| panic!("{}: {error}", row.place))
}

fn pitch(row: &Row) -> Length {
    match row.inputs.contains_key("per_inch") {
        true => thread::pitch_of(row.number("per_inch")),
        false => mm(row.number("pitch_mm")),
    }
}

fn sized(row: &Row) -> &'static ThreadSize {
    let given = row.inputs.contains_key("pitch_mm").then(|| pitch(row));
    thread::size(word(row, "family"), nominal(row), given)
        .unwrap_or_else(|| panic!("{}: no such thread", row.place))
}

fn seal_word(seal: SealsOn) -> &'static str {
    match seal {
        SealsOn::Thread => "thread",
        SealsOn::ThreadInDoubt => "thread-in-doubt",
        SealsOn::Face => "face",
        SealsOn::Seat => "seat",
        SealsOn::Nothing => "nothing",
        SealsOn::Never => "never",
    }
}

/// The answers to the rows about threads.
pub(crate) fn answer(row: &Row) -> Option<Answer> {
    let size = || nominal(row).as_length();
    let along = || mm(row.number("along_mm"));
    let fine = || row.text("other") == "unf";
    let basic = |sized: &ThreadSize, along: Length| {
        let from = sized.taper_lengths?.hand_tight;
        Some(sized.major + (along - from) * sized.family.taper().to_f64())
    };
    Some(Answer::Number(match row.function.as_str() {
        "pitch_of" => pitch(row).to_mm(),
        "hand_tight" => sized(row).taper_lengths?.hand_tight.to_mm(),
        "hand_tight_turns" => sized(row).taper_lengths?.hand_tight / sized(row).pitch,
        "useful_turns" => sized(row).taper_lengths?.useful / sized(row).pitch,
        "useful_inches" => sized(row).taper_lengths?.useful.to_inches(),
        "npt_e0_inches" => thread::npt_e0(along(), pitch(row)).to_inches(),
        "pitch_diameter_at_end" => {
            let sized = sized(row);
            let back = sized.taper_lengths?.hand_tight * sized.family.taper().to_f64();
            (sized.pitch_diameter - back).to_mm()
        }
        "major" => sized(row).major.to_mm(),
        "minor" => sized(row).minor.to_mm(),
        "basic_crest" => basic(sized(row), along())?.to_mm(),
        "pitch_diameter_55" => {
            thread::pitch_diameter_55(sized(row).major, sized(row).pitch).to_mm()
        }
        "minor_diameter_55" => {
            thread::minor_diameter_55(sized(row).major, sized(row).pitch).to_mm()
        }
        "pitch_diameter_60" => thread::pitch_diameter_60(size(), pitch(row)).to_mm(),
        "minor_diameter_60" => thread::minor_diameter_60(size(), pitch(row)).to_mm(),
        "crest" => {
            let crest = match word(row, "sex") {
                ThreadSex::Male => sized(row).male_crest(mm(0.0)),
                ThreadSex::Female => sized(row).female_crest(mm(0.0)),
            };
            crest.ok()?.value.middle().to_mm()
        }
        "crest_change" => {
            let sized = sized(row);
            let at = |from| sized.male_crest(from).map(|crest| crest.value.middle());
            (at(along()).ok()? - at(mm(0.0)).ok()?).to_mm()
        }
        "metric_male_high" => thread::metric_male_major(size(), pitch(row)).high.to_mm(),
        "metric_male_low" => thread::metric_male_major(size(), pitch(row)).low.to_mm(),
        "metric_female_high" => thread::metric_female_minor(size(), pitch(row)).high.to_mm(),
        "metric_female_low" => thread::metric_female_minor(size(), pitch(row)).low.to_mm(),
        "unified_male_high" => thread::unified_male_major(size(), pitch(row), fine())
            .high
            .to_inches(),
        "unified_male_low" => thread::unified_male_major(size(), pitch(row), fine())
            .low
            .to_inches(),
        "unified_female_high" => thread::unified_female_minor(size(), pitch(row))
            .high
            .to_inches(),
        "unified_female_low" => thread::unified_female_minor(size(), pitch(row))
            .low
            .to_inches(),
        "ten_pitches" => sized(row).ten_pitches().to_mm(),
        "mates" => {
            let mating = mates(word(row, "family"), word(row, "other")).ok()?;
            return Some(Answer::Text(seal_word(mating.seal).into()));
        }
        "tape_turns" => {
            let turns = seal::tape_turns(nominal(row));
            let found = turns
                .iter()
                .find(|turns| turns.source.id == row.text("other"))?;
            match row.text("end") {
                "low" => found.turns.low.to_f64(),
                _ => found.turns.high.to_f64(),
            }
        }
        _ => return None,
    }))
}

#[test]
fn sizes_rise_and_lack_only_what_the_standard_lacks() {
    let names = |family: Family| -> Vec<String> {
        thread::sizes(family)
            .iter()
            .map(|size| size.size.to_string())
            .collect()
    };
    let g = [
        "1/8 in", "1/4 in", "3/8 in", "1/2 in", "5/8 in", "3/4 in", "7/8 in", "1 in", "1 1/8 in",
        "1 1/4 in", "1 1/2 in", "1 3/4 in", "2 in",
    ];
    assert_eq!(names(Family::G), g);
    let lacking = ["5/8 in", "7/8 in", "1 1/8 in", "1 3/4 in"];
    let taper: Vec<_> = g
        .into_iter()
        .filter(|size| !lacking.contains(size))
        .collect();
    for family in [Family::R, Family::Rc, Family::Rp, Family::Npt, Family::Npsm] {
        assert_eq!(names(family), taper, "{family:?}");
    }
    for family in Family::ALL {
        assert!(!thread::sizes(family).is_empty());
        for pair in thread::sizes(family).windows(2) {
            // M30 stands with both pitches; the coarser comes after.
            let rises = pair[0].major < pair[1].major
                || pair[0].major == pair[1].major && pair[0].pitch < pair[1].pitch;
            assert!(rises, "{}", pair[1].designation());
            assert!(
                family == Family::Metric || pair[0].per_inch >= pair[1].per_inch,
                "{}",
                pair[1].designation()
            );
        }
    }
    assert_eq!(thread::sizes(Family::Metric).len(), 19);
    assert_eq!(thread::sizes(Family::Unified).len(), 6);
}

#[test]
fn diameters_follow_from_size_and_turns() {
    for size in thread::sizes(Family::G) {
        // Three printed decimals, and a pitch rounded to three before it was multiplied.
        near(
            thread::pitch_diameter_55(size.major, size.pitch),
            size.pitch_diameter,
            0.001,
        );
        near(
            thread::minor_diameter_55(size.major, size.pitch),
            size.minor,
            0.001,
        );
    }
    for family in Family::ALL {
        for size in thread::sizes(family) {
            let name = size.designation();
            assert!(
                size.minor < size.pitch_diameter && size.pitch_diameter < size.major,
                "{name}"
            );
            near(size.ten_pitches(), size.pitch * 10.0, 1e-9);
            if let Some(per_inch) = size.per_inch {
                near(size.pitch * per_inch, Length::inches(1.0), 1e-9);
            }
            assert!(!size.source.text.is_empty());
        }
    }
}

#[test]
fn npt_lengths_and_pitch_diameters_agree_with_the_printed_table() {
    // Outside diameters of pipe in inches, as every table of NPT has them.
    let pipes = [0.405, 0.54, 0.675, 0.84, 1.05, 1.315, 1.66, 1.9, 2.375];
    for (size, pipe) in thread::sizes(Family::Npt).iter().zip(pipes) {
        let lengths = size.taper_lengths.expect("lengths");
        let e0 = thread::npt_e0(Length::inches(pipe), size.pitch);
        // The hand-tight length is printed to 0.01 mm, of which a sixteenth counts.
        near(
            thread::npt_e1(e0, lengths.hand_tight),
            size.pitch_diameter,
            0.002,
        );
        near(
            thread::npt_l2(Length::inches(pipe), size.pitch),
            lengths.useful,
            1e-9,
        );
        near(lengths.wrench, size.pitch * 3.0, 1e-9);
        assert!(lengths.hand_tight + lengths.wrench < lengths.useful + size.pitch);
        near(thread::npt_e1(e0, mm(0.0)), e0, 1e-12);
    }
}

#[test]
fn taper_lengths_add_up() {
    for size in thread::sizes(Family::R) {
        let lengths = size.taper_lengths.expect("lengths");
        near(lengths.hand_tight + lengths.wrench, lengths.useful, 0.051);
        // One turn either way, to one decimal.
        near(lengths.plus_minus, size.pitch, 0.051);
        let turns = lengths.wrench / size.pitch;
        assert!((2.7..3.3).contains(&turns), "{turns} turns");
        assert_eq!(lengths.source.status, Status::Recalled);
    }
    for pair in thread::sizes(Family::R).windows(2) {
        let [a, b] = [0, 1].map(|i| pair[i].taper_lengths.expect("lengths"));
        assert!(a.hand_tight <= b.hand_tight && a.useful <= b.useful);
    }
}

#[test]
fn tolerances_of_g_give_the_limits_of_each_size() {
    // Smallest outside of a male, largest bore of a female.
    for (size, male, female) in [
        ("1/8 in", 9.514, 8.848),
        ("1/4 in", 12.907, 11.890),
        ("3/8 in", 16.412, 15.395),
        ("1/2 in", 20.671, 19.172),
        ("5/8 in", 22.627, 21.128),
        ("3/4 in", 26.157, 24.658),
        ("7/8 in", 29.917, 28.418),
        ("1 in", 32.889, 30.931),
        ("1 1/8 in", 37.537, 35.579),
        ("1 1/4 in", 41.550, 39.592),
        ("1 1/2 in", 47.443, 45.485),
        ("1 3/4 in", 53.386, 51.428),
        ("2 in", 59.254, 57.296),
    ] {
        let thread = find(Family::G, size);
        let crest = thread.male_crest(mm(3.0)).expect("a male").value;
        near(crest.low, mm(male), 1e-6);
        near(crest.high, thread.major, 1e-9);
        let bore = thread.female_crest(mm(3.0)).expect("a female").value;
        near(bore.high, mm(female), 1e-6);
        near(bore.low, thread.minor, 1e-9);
    }
    let turns = [28.0, 19.0, 14.0, 11.0];
    let rows = turns.map(|turns| thread::g_tolerance(turns).expect("a row"));
    for row in rows {
        near(row.pitch_b, row.pitch_a * 2.0, 1e-9);
    }
    assert!(rows.windows(2).all(|pair| pair[0].minor < pair[1].minor));
    assert!(thread::g_tolerance(12.0).is_none());
}

#[test]
fn a_taper_male_grows_from_its_end_and_a_taper_female_shrinks_inward() {
    let r = find(Family::R, "1/2 in");
    let at = |mm_along| r.male_crest(mm(mm_along)).expect("full thread").value;
    near(at(8.2).middle(), mm(20.955), 1e-6);
    near(at(0.0).middle(), mm(20.955 - 8.2 / 16.0), 1e-6);
    near(at(8.2).high, mm(20.955 + 1.8 / 16.0), 1e-6);
    assert!(r.male_crest(mm(13.3)).is_err() && r.male_crest(mm(-0.1)).is_err());
    let rc = find(Family::Rc, "1/2 in");
    let face = rc.female_crest(mm(0.0)).expect("a bore").value;
    let inside = rc.female_crest(mm(8.0)).expect("a bore").value;
    near(face.middle() - inside.middle(), mm(0.5), 1e-6);
    let rp = find(Family::Rp, "1/2 in");
    assert_eq!(rp.female_crest(mm(0.0)), rp.female_crest(mm(8.0)));
    near(
        rp.female_crest(mm(0.0)).expect("a bore").value.high,
        mm(18.631 + 1.25 * 25.4 / 14.0 / 16.0),
        1e-6,
    );
    let npt = find(Family::Npt, "1 in");
    let crest = npt.male_crest(mm(10.16)).expect("full thread").value;
    // Sharp crests are the most; a caliper reads up to some tenths less.
    near(crest.high, mm(33.23 + 2.209 / 16.0), 0.01);
    let less = (npt.major - crest.low).to_mm();
    assert!((0.1..0.45).contains(&less), "{less}");
}

#[test]
fn families_without_a_sex_say_so() {
    let none = |family: Family| {
        let size = find(family, "1/2 in");
        (size.male_crest(mm(0.0)), size.female_crest(mm(0.0)))
    };
    let male = none(Family::Rc).0.expect_err("Rc has no males");
    assert_eq!(male.why, "Rc names only female threads");
    assert!(none(Family::Rp).0.is_err());
    assert!(none(Family::R).1.is_err());
    assert!(mates(Family::Rc, Family::R).is_err() && mates(Family::G, Family::R).is_err());
}

#[test]
fn limits_of_every_size_lie_about_its_basic_sizes() {
    let within = |limits: Limits<Length>, basic: Length| {
        limits.low <= limits.high
            && (limits.low - basic).to_mm() > -0.8
            && (limits.high - basic).to_mm() < 0.8
    };
    for family in Family::ALL {
        for size in thread::sizes(family) {
            let from = size
                .taper_lengths
                .map_or(mm(0.0), |lengths| lengths.hand_tight);
            if family.has(ThreadSex::Male) {
                let crest = size.male_crest(from).expect("a male").value;
                assert!(within(crest, size.major), "{}", size.designation());
            }
            if family.has(ThreadSex::Female) {
                let bore = size.female_crest(mm(0.0)).expect("a female").value;
                assert!(within(bore, size.minor), "{}", size.designation());
                assert!(bore.high < size.major, "{}", size.designation());
            }
        }
    }
}

#[test]
fn threads_are_named_as_they_are_written() {
    for (family, size, pitch, name) in [
        (Family::G, "1 1/4 in", None, "G 1-1/4"),
        (Family::Npt, "1/2 in", None, "1/2 NPT"),
        (Family::Metric, "22", Some(1.5), "M22x1.5"),
        (Family::Metric, "30", Some(2.0), "M30x2"),
        (Family::Unified, "1 1/16 in", None, "1-1/16-12"),
    ] {
        let found = thread::size(family, inch(size), pitch.map(mm)).expect("a size");
        assert_eq!(found.designation(), name);
    }
    assert!(thread::size(Family::Metric, inch("30"), None).is_none());
    assert!(thread::size(Family::R, inch("5/8 in"), None).is_none());
}

#[test]
fn every_male_meets_every_female_once() {
    for male in Family::ALL.into_iter().filter(|f| f.has(ThreadSex::Male)) {
        for female in Family::ALL.into_iter().filter(|f| f.has(ThreadSex::Female)) {
            let rows = matings()
                .iter()
                .filter(|row| row.male.contains(&male) && row.female.contains(&female))
                .count();
            assert_eq!(rows, 1, "{male:?} in {female:?}");
            let mating = mates(male, female).expect("a row");
            // What seals on its thread has a taper male and one angle of flank.
            if matches!(mating.seal, SealsOn::Thread | SealsOn::ThreadInDoubt) {
                assert!(male.taper() > Ratio::of(0.0), "{male:?} in {female:?}");
                assert_eq!(male.flank_angle(), female.flank_angle());
            }
            if male.flank_angle() != female.flank_angle() {
                assert_eq!(mating.seal, SealsOn::Never, "{male:?} in {female:?}");
            }
        }
    }
    for row in matings() {
        assert!(row.male.iter().all(|family| family.has(ThreadSex::Male)));
        assert!(
            row.female
                .iter()
                .all(|family| family.has(ThreadSex::Female))
        );
    }
}

#[test]
fn washers_rise_and_pass_over_their_thread() {
    for family in [Family::G, Family::Metric] {
        let of: Vec<_> = seal::washers()
            .iter()
            .filter(|washer| washer.family == family)
            .collect();
        for pair in of.windows(2) {
            assert!(pair[0].hole.high < pair[1].hole.high && pair[0].outside < pair[1].outside);
            assert!(pair[0].thickness <= pair[1].thickness);
        }
        for washer in of {
            let thread = thread::sizes(family)
                .iter()
                .find(|thread| thread.size == washer.size)
                .expect("a thread for every washer");
            // The true hole is up to 0.3 mm larger than its name.
            assert!(
                washer.hole.high + mm(0.3) > thread.major,
                "{}",
                thread.designation()
            );
            let seating = washer.seating().to_mm();
            assert!((1.7..=3.6).contains(&seating), "{}", thread.designation());
            assert_eq!(seal::washer(thread), Ok(washer));
        }
    }
    assert!(seal::washer(find(Family::R, "1/2 in")).is_err());
    let hole = seal::bonded_washer_hole(mm(20.955)).value;
    near(hole.low, mm(21.255), 1e-9);
    near(hole.high, mm(21.455), 1e-9);
    near(seal::least_seating().value, mm(2.0), 1e-9);
}

#[test]
fn tape_starts_with_the_shop_figure_and_leaves_no_size_out() {
    let mut before = Ratio::of(0.0);
    for size in thread::sizes(Family::R) {
        let turns = seal::tape_turns(size.size);
        assert_eq!(turns[0].source.status, Status::Practice, "{}", size.size);
        assert!(turns[0].turns.low >= before && turns.len() >= 2);
        before = turns[0].turns.low;
    }
    assert!(seal::tape_turns(inch("1/16 in")).is_empty());
}

#[test]
fn seals_have_a_place_and_engagement_a_metal() {
    let all: BTreeSet<_> = [SealPlace::Face, SealPlace::Thread]
        .into_iter()
        .flat_map(seal::seals)
        .map(|seal| &seal.id)
        .collect();
    assert_eq!(all.len(), 7);
    let cold: Vec<_> = seal::seals(SealPlace::Face)
        .into_iter()
        .filter(|seal| seal.cold_only)
        .collect();
    assert_eq!(cold.len(), 1);
    let engaged = |metal| seal::least_engagement(metal, mm(20.0)).map(|found| found.value);
    assert_eq!(engaged(Alloy::Aluminium), Ok(mm(20.0)));
    near(engaged(Alloy::Brass).expect("brass"), mm(16.0), 1e-9);
    near(engaged(Alloy::Steel).expect("steel"), mm(12.0), 1e-9);
    assert!(engaged(Alloy::Plastic).is_err());
    let r = seal::taper_engagement(find(Family::R, "1/2 in")).expect("a taper");
    near(r.value.low, mm(8.2 + 2.0 * 25.4 / 14.0), 1e-6);
    assert!(seal::taper_engagement(find(Family::G, "1/2 in")).is_err());
    let turns = seal::turns_past_hand_tight().value;
    assert_eq!((turns.low.to_f64(), turns.high.to_f64()), (1.5, 3.0));
    assert!(thread::thread_fact("no-tape-with-washer").is_some());
    assert!(thread::thread_fact("no such fact").is_none());
}
