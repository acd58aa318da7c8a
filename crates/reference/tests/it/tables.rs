//! The data files: heads complete, rows in order, sizes that could exist.

use std::collections::{BTreeMap, BTreeSet};

use quantity::{Length, Ratio};
use reference::clip::{self, Clip, ClipKind};
use reference::hose::{self, HoseKind, Make};
use reference::insertion;
use reference::metal::{self, Alloy, GalvanicTable, Proneness};
use reference::torque::{self, ClipForm, HoseEnd, TorqueUse};
use reference::{Source, Status, rule};

fn mm(value: f64) -> Length {
    Length::mm(value)
}

#[test]
fn every_head_is_complete_and_every_file_is_read() {
    let mut texts: BTreeMap<&str, &Source> = BTreeMap::new();
    let mut titles = BTreeSet::new();
    for table in reference::tables() {
        assert!(table.title.len() > 10, "{}: title", table.file);
        assert!(
            titles.insert(&table.title),
            "{}: title stands twice",
            table.file
        );
        assert!(table.rows > 0, "{}: no rows", table.file);
        let mut ids = BTreeSet::new();
        for source in &table.sources {
            assert!(
                ids.insert(&source.id),
                "{}: source {} stands twice",
                table.file,
                source.id
            );
            assert!(source.text.len() > 10, "{}: {}", table.file, source.id);
            let before = texts.entry(&source.id).or_insert(source);
            assert_eq!(
                *before, *source,
                "{}: {} differs from another file",
                table.file, source.id
            );
        }
    }
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("data");
    let on_disk: BTreeSet<String> = folder
        .read_dir()
        .expect("the data folder")
        .map(|entry| {
            entry
                .expect("a file")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    let read: BTreeSet<String> = reference::tables()
        .iter()
        .map(|table| table.file.to_owned())
        .collect();
    assert_eq!(on_disk, read);
}

#[test]
#[allow(clippy::disallowed_methods)] // The ban on reading files binds the crate, not its tests.
fn every_source_in_a_head_is_used() {
    for table in reference::tables() {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("data")
            .join(table.file);
        let text = std::fs::read_to_string(path).expect("the data file");
        for source in &table.sources[1..] {
            let named = text.matches(&format!("source = \"{}\"", source.id)).count();
            assert!(named > 0, "{}: no row names {}", table.file, source.id);
        }
    }
}

#[test]
fn bores_are_in_order_and_near_their_names() {
    let bores = hose::standard_bores();
    for pair in bores.windows(2) {
        assert!(pair[0].nominal.as_length() < pair[1].nominal.as_length());
        for make in [Make::RigidMandrel, Make::FlexibleMandrel, Make::NoMandrel] {
            if let (Some(small), Some(large)) = (pair[0].limits(make), pair[1].limits(make)) {
                assert!(
                    small.low < large.low && small.high < large.high,
                    "{:?}",
                    pair[1].nominal
                );
            }
        }
    }
    for bore in bores {
        let rigid = bore
            .rigid_mandrel
            .expect("every size is made on a rigid mandrel");
        let nominal = bore.nominal.as_length();
        assert!(
            rigid.low <= nominal + mm(0.6) && nominal <= rigid.high,
            "{:?}",
            bore.nominal
        );
        // A size built without a mandrel varies at least as much as one built on one; at 4 mm the
        // printed limits shift downwards instead.
        if let Some(free) = bore.no_mandrel.filter(|_| nominal > mm(4.0)) {
            assert!(
                free.low <= rigid.low && rigid.high <= free.high,
                "{:?}",
                bore.nominal
            );
        }
    }
}

#[test]
fn sold_bores_lie_within_the_limits_of_their_row() {
    let sold = hose::sold_bores();
    for pair in sold.windows(2) {
        assert!(
            pair[0].bore <= pair[1].bore,
            "{:?} after {:?}",
            pair[1].nominal,
            pair[0].nominal
        );
    }
    for bore in sold {
        let limits = hose::bore_limits(bore.nominal, Make::RigidMandrel);
        assert_eq!(limits.is_ok(), bore.row.is_some(), "{:?}", bore.nominal);
        if let Ok(limits) = limits {
            let own = bore.row == Some(bore.nominal);
            assert!(
                own || limits.value.contains(bore.bore),
                "{:?}",
                bore.nominal
            );
        }
    }
    let inches = sold
        .iter()
        .filter(|bore| bore.source.status == Status::Calculated)
        .count();
    assert_eq!(inches, 15, "inch bores from 3/8 to 3");
}

#[test]
fn general_tolerance_widens_with_bore_and_class() {
    use hose::MandrelClass::{Coarse, Fine, Medium};
    let at = |bore: f64, class| hose::general_bore_tolerance(mm(bore), class).map(|row| row.value);
    let mut before = mm(0.0);
    for bore in [5.0, 8.0, 12.0, 20.0, 30.0, 50.0] {
        let [fine, medium, coarse] =
            [Fine, Medium, Coarse].map(|class| at(bore, class).expect("a row"));
        assert!(before < fine && fine < medium && medium < coarse, "{bore}");
        before = fine;
    }
    assert!(at(4.0, Fine).is_err() && at(63.0, Fine).is_ok() && at(63.1, Fine).is_err());
}

#[test]
fn a_wall_between_two_rows_spans_both_and_outside_is_unknown() {
    let wall = |bore: f64| {
        hose::wall(HoseKind::FabricEpdm, mm(bore)).map(|wall| (wall.value.low, wall.value.high))
    };
    assert_eq!(wall(25.0), Ok((mm(3.5), mm(4.5))));
    assert_eq!(wall(28.0), Ok((mm(3.5), mm(5.5))));
    assert_eq!(wall(32.0), Ok((mm(4.5), mm(5.5))));
    assert!(wall(10.0).is_err() && wall(63.0).is_err());
    let unknown = hose::wall(HoseKind::PlainRubber, mm(19.0)).expect_err("no usual wall");
    assert_eq!(
        unknown.settles,
        "the wall or the outside diameter of the hose itself"
    );
}

#[test]
fn stretch_limits_rise() {
    for kind in HoseKind::ALL {
        let limits = hose::stretch_limits(kind);
        assert!(Ratio::of(0.0) < limits.good_to, "{kind:?}");
        assert!(
            limits.good_to < limits.warning_to && limits.warning_to <= limits.refuse_over,
            "{kind:?}"
        );
        assert!(
            limits
                .trial_fit_to
                .is_none_or(|trial| trial > limits.refuse_over),
            "{kind:?}"
        );
        assert_eq!(limits.source.status, Status::Practice);
    }
    // A stiffer build stretches less.
    let good = |kind| hose::stretch_limits(kind).good_to;
    assert!(good(HoseKind::WireHelix) < good(HoseKind::FabricSilicone));
    assert!(good(HoseKind::FabricSilicone) < good(HoseKind::FabricEpdm));
    assert!(good(HoseKind::FabricEpdm) < good(HoseKind::PlainRubber));
}

#[test]
fn slack_is_the_lesser_of_its_limits() {
    assert_eq!(hose::slack_limits().at(mm(38.0)), mm(0.5));
    assert!((hose::slack_limits().at(mm(10.0)).to_mm() - 0.2).abs() < 1e-12);
}

#[test]
fn pressure_falls_as_the_bore_grows() {
    let at = |bore: f64| {
        hose::working_pressure(HoseKind::FabricSilicone, mm(bore)).map(|row| row.value.low.to_bar())
    };
    let mut before = f64::INFINITY;
    for bore in [13.0, 16.0, 25.0, 25.1, 38.0, 51.0, 60.0, 76.0] {
        let now = at(bore).expect("a rating");
        assert!(now <= before, "{bore}: {now} after {before}");
        before = now;
    }
    assert_eq!(
        (at(13.0), at(25.0), at(38.0), at(51.0)),
        (Ok(5.0), Ok(4.0), Ok(3.0), Ok(2.5))
    );
    assert!(at(90.0).is_err());
    assert!(hose::working_pressure(HoseKind::FabricEpdm, mm(32.0)).is_err());
}

#[test]
fn every_kind_of_hose_has_its_classes_and_bends() {
    for kind in HoseKind::ALL {
        assert!(hose::temperature_limit(kind).value.to_celsius() >= 100.0);
        let rules = hose::bend_rules(kind);
        let smallest = rules
            .iter()
            .filter(|rule| rule.used_as == hose::BendUse::Smallest);
        assert!(smallest.count() >= 1, "{kind:?}");
    }
    for class in hose::temperature_classes() {
        assert!(
            class.low.is_none_or(|low| low < class.high),
            "{} {}",
            class.standard,
            class.class
        );
    }
    assert!(
        hose::softening()
            .never
            .iter()
            .any(|never| never.contains("oil"))
    );
}

#[test]
fn collapse_scales_with_the_cube_of_the_wall_and_refuses_what_is_no_tube() {
    use hose::Softness::{Cold, Hot};
    let at = |bore, wall, softness| {
        hose::collapse_pressure(mm(bore), mm(wall), softness).map(|row| row.value)
    };
    // Mean radius 15 both times: half the wall, an eighth of the pressure.
    let (thick, thin) = (
        at(26.0, 4.0, Cold).expect("a tube"),
        at(28.0, 2.0, Cold).expect("a tube"),
    );
    assert!((thick / thin - 8.0).abs() < 1e-9);
    assert!((thick / at(26.0, 4.0, Hot).expect("a tube") - 2.0).abs() < 1e-9);
    assert!(
        at(0.0, 4.0, Cold).is_err() && at(26.0, -1.0, Cold).is_err() && at(6.0, 4.0, Cold).is_err()
    );
}

/// Clips of one series, smallest first.
fn series(kind: ClipKind, standard: &str) -> Vec<&'static Clip> {
    let clips: Vec<_> = clip::standard_clips(kind)
        .iter()
        .filter(|clip| clip.standard == standard)
        .collect();
    assert!(!clips.is_empty(), "no series {standard}");
    clips
}

const SERIES: [(ClipKind, &str); 8] = [
    (ClipKind::WormDrive, "DIN 3017-1 form A"),
    (ClipKind::WormDrive, "SAE J1508 type F"),
    (ClipKind::WormDrive, "older British sizes"),
    (ClipKind::TBolt, "single-bolt series, narrow steps"),
    (ClipKind::TBolt, "DIN 3017-3"),
    (ClipKind::SpringBand, "DIN 3021"),
    (ClipKind::SingleEar, "usual single-ear sizes"),
    (ClipKind::TwoEar, "usual two-ear sizes"),
];

#[test]
fn clips_close_below_where_they_open_and_stand_in_order() {
    let mut seen = 0;
    for (kind, standard) in SERIES {
        let clips = series(kind, standard);
        seen += clips.len();
        let names: BTreeSet<_> = clips
            .iter()
            .map(|clip| (&clip.designation, clip.band))
            .collect();
        assert_eq!(names.len(), clips.len(), "{standard}: a size stands twice");
        for clip in &clips {
            assert!(
                mm(5.0) < clip.closed && clip.closed < clip.open,
                "{standard} {}",
                clip.designation
            );
            assert_eq!(clip.ear.is_some(), kind == ClipKind::SingleEar);
            assert_eq!(clip.nominal.is_some(), kind == ClipKind::SpringBand);
            assert!(
                clip.band
                    .is_none_or(|band| mm(5.0) <= band && band <= mm(25.0))
            );
            let half = clip.range().middle();
            assert!((clip.share_of_range(half) - 0.5).abs() < 1e-12);
        }
        for pair in clips.windows(2) {
            assert!(
                pair[0].open <= pair[1].open && pair[0].closed <= pair[1].closed,
                "{standard} {}",
                pair[1].designation
            );
        }
    }
    let all: usize = ClipKind::ALL
        .iter()
        .map(|&kind| clip::standard_clips(kind).len())
        .sum();
    assert_eq!(seen, all, "a series is not tested");
}

#[test]
fn a_designation_that_names_a_range_names_its_own() {
    for (kind, standard) in SERIES {
        for clip in series(kind, standard) {
            if let Some((closed, open)) = clip.designation.split_once('-') {
                let read = |text: &str| mm(text.parse().expect("a diameter"));
                assert_eq!(
                    (read(closed), read(open)),
                    (clip.closed, clip.open),
                    "{standard}"
                );
            }
        }
    }
}

#[test]
fn neighbours_overlap_but_for_the_known_gaps() {
    let gaps = |standard: &str, kind| -> Vec<String> {
        series(kind, standard)
            .windows(2)
            .filter(|pair| pair[1].closed > pair[0].open)
            .map(|pair| format!("{} | {}", pair[0].designation, pair[1].designation))
            .collect()
    };
    for (kind, standard) in SERIES {
        let found = gaps(standard, kind);
        match standard {
            // The standard's own steps leave a millimetre between all neighbours but the last.
            "DIN 3017-3" => {
                assert_eq!(found.len(), 14);
                assert_eq!(found[0], "17-19 | 20-22");
            }
            _ => assert!(found.is_empty(), "{standard}: {found:?}"),
        }
    }
}

#[test]
fn single_ears_close_by_their_ear_over_pi() {
    for clip in clip::standard_clips(ClipKind::SingleEar) {
        let ear = clip.ear.expect("an ear");
        let girth_lost = (clip.open - clip.closed) * std::f64::consts::PI;
        assert!(
            (girth_lost - ear).to_mm().abs() < 1e-9,
            "{}",
            clip.designation
        );
        let share = |diameter| clip.ear_closing_share(diameter).expect("an ear").to_f64();
        assert!(share(clip.open).abs() < 1e-9 && (share(clip.closed) - 1.0).abs() < 1e-9);
    }
    let worm = &clip::standard_clips(ClipKind::WormDrive)[0];
    assert_eq!(worm.ear_closing_share(worm.open), None);
}

#[test]
fn spring_bands_hold_their_nominal_size() {
    for clip in clip::standard_clips(ClipKind::SpringBand) {
        let nominal = clip.nominal.expect("a nominal size");
        assert!(
            clip.closed < nominal && nominal < clip.open,
            "{}",
            clip.designation
        );
    }
}

#[test]
fn shares_are_shares_and_ring_clips_have_no_squeeze() {
    for share in [
        clip::squeeze_range(),
        clip::ear_closing_share(),
        clip::worm_best_share(),
        clip::reused_torque_share(),
    ] {
        assert!(
            Ratio::of(0.0) < share.value.low
                && share.value.low < share.value.high
                && share.value.high < Ratio::of(1.0)
        );
    }
    assert!(
        clip::squeeze_range()
            .value
            .contains(clip::usual_squeeze().value)
    );
    assert!(clip::ear_interval_share().value < Ratio::of(0.5));
    for kind in ClipKind::ALL {
        assert_eq!(clip::squeeze(kind).is_err(), kind.is_ring(), "{kind:?}");
    }
}

#[test]
fn advice_disagrees_for_worm_drive_and_all_of_it_is_kept() {
    let prefers: BTreeSet<_> = clip::sizing_advice(ClipKind::WormDrive)
        .iter()
        .map(|row| row.prefers)
        .collect();
    assert_eq!(prefers.len(), 3);
}

#[test]
fn bands_follow_the_bore() {
    assert_eq!(clip::usual_band(mm(20.0)).value, mm(9.0));
    assert_eq!(clip::usual_band(mm(20.1)).value, mm(12.0));
    let salt: Vec<_> = clip::clip_materials()
        .iter()
        .filter(|row| row.salt_water)
        .map(|row| row.mark.as_str())
        .collect();
    assert_eq!(salt, ["W5"]);
}

#[test]
fn a_reused_end_takes_less_torque_and_unknown_bands_take_no_row_of_a_band() {
    let at = |band: Option<f64>, end| {
        torque::torques(
            ClipKind::WormDrive,
            ClipForm::Plain,
            band.map(mm),
            mm(45.0),
            end,
        )
    };
    for band in [9.0, 12.7, 15.0] {
        let (new, reused) = (
            at(Some(band), HoseEnd::New).expect("new"),
            at(Some(band), HoseEnd::Reused).expect("reused"),
        );
        assert!(
            reused.recommended.torque.high < new.recommended.torque.high,
            "{band}"
        );
        assert_eq!(new.recommended.hose, Some(HoseEnd::New));
        let all = new.others.iter().chain([&new.recommended]);
        assert!(
            all.clone()
                .all(|row| row.used_as == TorqueUse::Tighten && row.hose != Some(HoseEnd::Reused))
        );
        assert_eq!(
            all.map(|row| &row.words).collect::<BTreeSet<_>>().len(),
            new.others.len() + 1
        );
    }
    let no_band = at(None, HoseEnd::New).expect("a row without a band");
    assert!(
        no_band.recommended.band.is_none() && no_band.others.iter().all(|row| row.band.is_none())
    );
    assert!(
        torque::torques(
            ClipKind::SpringBand,
            ClipForm::Plain,
            None,
            mm(36.0),
            HoseEnd::New
        )
        .is_err()
    );
    assert!(
        torque::torques(
            ClipKind::WormDrive,
            ClipForm::Plain,
            None,
            mm(200.0),
            HoseEnd::New
        )
        .is_err()
    );
}

#[test]
fn no_torque_to_tighten_to_is_one_that_breaks_the_clip() {
    for row in torque::torque_rows() {
        assert!(
            row.breaks_from
                .is_none_or(|breaks| row.torque.high < breaks),
            "{}",
            row.words
        );
    }
}

#[test]
fn insertion_adds_up() {
    assert_eq!(insertion::clips_that_fit(mm(30.0), mm(12.0)), 1);
    assert_eq!(insertion::clips_that_fit(mm(20.9), mm(12.0)), 0);
    assert_eq!(insertion::clips_that_fit(mm(38.0), mm(12.0)), 2);
    assert_eq!(insertion::shop_rule(mm(12.0)).value, mm(20.0));
    assert_eq!(insertion::shop_rule(mm(32.0)).value, mm(32.0));
    assert_eq!(insertion::shop_rule(mm(51.0)).value, mm(40.0));
    let bead = |spigot: f64| {
        insertion::usual_bead_height(mm(spigot)).map(|bead| (bead.value.low, bead.value.high))
    };
    assert_eq!(bead(16.0), Ok((mm(1.5), mm(2.5))));
    assert_eq!(bead(22.0), Ok((mm(1.5), mm(4.0))));
    assert_eq!(bead(35.0), Ok((mm(2.0), mm(4.0))));
    assert!(bead(8.0).is_err() && bead(76.0).is_err());
}

#[test]
fn every_metal_has_its_row_and_only_brass_and_bronze_lose_zinc() {
    let mut names = BTreeSet::new();
    for alloy in Alloy::ALL {
        let row = metal::metal(alloy);
        assert!(names.insert(&row.name), "{} stands twice", row.name);
        let may = row.dezincifies != Proneness::No;
        assert!(
            !may || matches!(row.family, metal::Family::Brass | metal::Family::Bronze),
            "{}",
            row.name
        );
    }
    assert_eq!(
        metal::metal(Alloy::ManganeseBronze).family,
        metal::Family::Brass
    );
    assert_eq!(
        metal::metal(Alloy::BrassUnknown).dezincifies,
        Proneness::Unknown
    );
}

#[test]
fn active_stainless_is_baser_than_passive_and_the_calomel_tables_are_near() {
    use metal::Surface::{Active, Passive};
    for table in GalvanicTable::ALL {
        let rows = metal::galvanic_rows(table);
        for alloy in [Alloy::Stainless304, Alloy::Stainless316] {
            let of = |state| {
                rows.iter()
                    .filter(|row| row.state == Some(state) && row.alloys.contains(&alloy))
                    .collect::<Vec<_>>()
            };
            for (active, passive) in of(Active).iter().zip(of(Passive)) {
                assert!(active.range.high < passive.range.low, "{}", active.name);
            }
        }
    }
    // Both calomel tables: the single value lies within the range, or 0.15 V off (active 316 is the furthest).
    for alloy in Alloy::ALL {
        for single in metal::potentials(alloy, GalvanicTable::FlowingCalomel) {
            let ranges = metal::potentials(alloy, GalvanicTable::FlowingRanges);
            let ranges: Vec<_> = ranges
                .iter()
                .filter(|row| row.state == single.state)
                .collect();
            let volts = single.range.low.to_volts();
            let near = ranges.iter().any(|row| {
                row.range.low.to_volts() - 0.151 <= volts
                    && volts <= row.range.high.to_volts() + 0.151
            });
            assert!(ranges.is_empty() || near, "{}", single.name);
        }
    }
}

#[test]
fn a_gap_is_the_same_both_ways_round() {
    for table in GalvanicTable::ALL {
        for a in Alloy::ALL {
            for b in Alloy::ALL {
                let (ab, ba) = (
                    metal::galvanic_gap(a, b, table),
                    metal::galvanic_gap(b, a, table),
                );
                if let (Ok(ab), Ok(ba)) = (&ab, &ba) {
                    assert_eq!(
                        (ab.least, ab.most, ab.wastes),
                        (ba.least, ba.most, ba.wastes)
                    );
                    assert!(ab.least <= ab.most);
                    assert_eq!(ab.wastes.is_some(), ab.least.to_volts() > 0.0);
                }
                assert_eq!(ab.is_ok(), ba.is_ok());
            }
        }
    }
    assert!(
        metal::galvanic_gap(Alloy::Plastic, Alloy::Steel, GalvanicTable::SilverChloride).is_err()
    );
}

#[test]
fn cut_lengths_have_no_end_and_heater_hose_only_its_one_row() {
    let mut before = mm(0.0);
    for length in [100.0, 400.0, 700.0, 1000.0, 1500.0, 2000.0, 1e6] {
        let now = hose::cut_length_tolerance(mm(length)).value;
        assert!(now > before, "{length}");
        before = now;
    }
    assert!(hose::end_squareness(mm(152.1)).is_err());
    assert!(hose::heater_hose(mm(5.0)).is_some() && hose::heater_hose(mm(9.0)).is_none());
    let nothing = torque::contact_pressure(
        quantity::Torque::n_m(4.5),
        mm(3.0),
        Ratio::of(0.15),
        mm(36.0),
        mm(0.0),
    );
    assert!(nothing.is_err());
}

#[test]
fn a_size_as_an_owner_writes_it_is_found() {
    let named = |clip: Option<&'static Clip>| {
        clip.map(|clip| (clip.standard, clip.band.map(Length::to_mm)))
    };
    let worm = clip::clip_by_range(ClipKind::WormDrive, mm(32.0), mm(50.0));
    assert_eq!(named(worm).map(|clip| clip.0), Some("DIN 3017-1 form A"));
    // The series whose band is known goes before the older one of the same range.
    let both =
        clip::clip_by_range(ClipKind::WormDrive, mm(60.0), mm(80.0)).expect("a size of two series");
    assert!(both.band.is_some());
    let ear = clip::clip_by_size(ClipKind::SingleEar, mm(19.8)).expect("a usual size");
    assert_eq!(ear.ear, Some(mm(10.0)));
    let spring =
        clip::clip_by_size(ClipKind::SpringBand, mm(36.0)).expect("a size of the standard");
    assert_eq!((spring.closed, spring.open), (mm(32.5), mm(39.0)));
    assert!(clip::clip_by_size(ClipKind::WormDrive, mm(36.0)).is_none());
    assert!(clip::clip_by_size(ClipKind::SingleEar, mm(20.2)).is_none());

    let own =
        Clip::of_owner(ClipKind::WormDrive, mm(38.5), mm(57.0), Some(mm(12.7))).expect("a range");
    assert_eq!(
        (own.designation.as_str(), own.source.status),
        ("38.5-57", Status::Owner)
    );
    assert!(Clip::of_owner(ClipKind::WormDrive, mm(57.0), mm(38.0), None).is_none());
}

#[test]
fn sources_are_cited_with_how_they_came_to_be_known() {
    let check = |source: &Source, expected: &str| assert_eq!(source.cite(), expected);
    check(
        hose::standard_bores()[0].source,
        "hose maker's tolerance page quoting EN ISO 1307, 2008 (printed)",
    );
    check(
        hose::stretch_limits(HoseKind::FabricEpdm).source,
        "limits of stretch for hand fitting; no standard gives any (common practice, no source)",
    );
    check(
        series(ClipKind::TBolt, "DIN 3017-3")[0].source,
        "DIN 3017-3 steps (from memory, to be checked)",
    );
    check(
        reference::source::owner(),
        "the owner's own entry in the boat file",
    );
}

#[test]
fn facts_have_short_names_that_stand_once() {
    for facts in [
        hose::hose_facts(),
        clip::clip_facts(),
        metal::metal_facts(),
        reference::thread::thread_facts(),
    ] {
        let ids: BTreeSet<_> = facts.iter().map(|fact| &fact.id).collect();
        assert_eq!(ids.len(), facts.len());
    }
    assert!(
        clip::clip_fact("bedding").is_some() && hose::hose_fact("fails-near-the-end").is_some()
    );
    assert!(clip::clip_fact("no such fact").is_none());
}

#[test]
fn rules_say_whom_they_bind() {
    let supply = rule::clip_rule("us-supply").expect("a rule");
    assert_eq!((supply.clips, supply.clips_on_bead), (Some(2), Some(1)));
    assert_eq!(supply.bars, [ClipKind::SpringBand]);
    let class = rule::clip_rule("class").expect("a rule");
    assert!(
        class.none_where_it_floods
            && class.pressure_below == Some(quantity::GaugePressure::bar(5.0))
    );
    assert_eq!(
        rule::clip_rule("us-passenger").and_then(|rule| rule.clips),
        Some(2)
    );
    for rule in rule::clip_rules() {
        // What binds somebody was read; practice binds nobody.
        assert!(
            rule.binds.starts_with("nobody") || rule.source.status == Status::Printed,
            "{}",
            rule.id
        );
    }
    assert!(metal::metal_fact("series-holds-in-its-liquid").is_some());
}
