//! Every validation row, asked of the function that it names.

use std::path::Path;

use quantity::{Length, NominalSize, Ratio, Torque};
use reference::clip::{self, Clip, ClipKind};
use reference::hose::{self, HoseKind, Make, MandrelClass, Softness};
use reference::metal::{self, Alloy, GalvanicTable, Proneness};
use reference::torque::{self, ClipForm, HoseEnd, TorqueRow};
use reference::{Limits, Status, insertion, rule};
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error, StrDeserializer};

use crate::rows::{self, Answer, Row};

/// A word of one of the crate's enums, as the data files write it.
fn word<T: for<'a> Deserialize<'a>>(row: &Row, input: &str) -> T {
    let text: StrDeserializer<'_, Error> = row.text(input).into_deserializer();
    T::deserialize(text).unwrap_or_else(|error| panic!("{}: {error}", row.place))
}

fn mm(row: &Row, input: &str) -> Length {
    Length::mm(row.number(input))
}

fn size(row: &Row) -> NominalSize {
    NominalSize::parse(row.text("size")).unwrap_or_else(|error| panic!("{}: {error}", row.place))
}

fn number(value: f64) -> Answer {
    Answer::Number(value)
}

/// What is not known answers `none`.
fn or_none<T, E>(result: Result<T, E>, read: impl Fn(T) -> f64) -> Answer {
    result.map_or(Answer::Text("none".into()), |value| number(read(value)))
}

/// One end of some limits, as the row's `end` names it.
fn end<Q: quantity::Quantity>(row: &Row, limits: Limits<Q>) -> Q {
    match row.text("end") {
        "low" => limits.low,
        "high" => limits.high,
        "middle" => limits.middle(),
        other => panic!("{}: end `{other}`", row.place),
    }
}

fn find_clip(row: &Row) -> &'static Clip {
    let (standard, designation) = (row.text("standard"), row.text("designation"));
    clip::standard_clips(word(row, "kind_of_clip"))
        .iter()
        .find(|clip| clip.standard == standard && clip.designation == designation)
        .unwrap_or_else(|| panic!("{}: no clip {standard} {designation}", row.place))
}

fn torque(row: &Row, of: &TorqueRow) -> f64 {
    match row.text("end") {
        "breaks" => of
            .breaks_from
            .expect("a torque at which it breaks")
            .to_n_m(),
        _ => end(row, of.torque).to_n_m(),
    }
}

fn torques(row: &Row) -> Result<torque::Torques, reference::Unknown> {
    let band = row.inputs.get("band_mm").map(|_| mm(row, "band_mm"));
    torque::torques(
        word::<ClipKind>(row, "kind_of_clip"),
        word::<ClipForm>(row, "form"),
        band,
        mm(row, "diameter_mm"),
        word::<HoseEnd>(row, "hose"),
    )
}

fn table(row: &Row) -> GalvanicTable {
    match row.text("table") {
        "flowing" => GalvanicTable::FlowingCalomel,
        "silver" => GalvanicTable::SilverChloride,
        "ranges" => GalvanicTable::FlowingRanges,
        other => panic!("{}: table `{other}`", row.place),
    }
}

fn answer(row: &Row) -> Option<Answer> {
    Some(match row.function.as_str() {
        "bore_limits" => {
            let make = match row.text("make") {
                "rigid" => Make::RigidMandrel,
                "flexible" => Make::FlexibleMandrel,
                _ => Make::NoMandrel,
            };
            or_none(hose::bore_limits(size(row), make), |limits| {
                end(row, limits.value).to_mm()
            })
        }
        "widest_bore_limits" => or_none(hose::widest_bore_limits(size(row)), |limits| {
            end(row, limits.value).to_mm()
        }),
        "sold_bore" => {
            let wanted = size(row);
            let sold = hose::sold_bores()
                .iter()
                .find(|sold| sold.nominal == wanted)?;
            number(sold.bore.to_mm())
        }
        "general_bore_tolerance" => {
            let class = match row.text("make") {
                "fine" => MandrelClass::Fine,
                "medium" => MandrelClass::Medium,
                _ => MandrelClass::Coarse,
            };
            let bore = Length::mm(row.number("size"));
            or_none(hose::general_bore_tolerance(bore, class), |tolerance| {
                tolerance.value.to_mm()
            })
        }
        "temperature_class" => {
            let (standard, class) = row.text("class").rsplit_once(' ')?;
            let class = hose::temperature_class(standard, class)?;
            number(match row.text("end") {
                "low" => class.low?.to_celsius(),
                _ => class.high.to_celsius(),
            })
        }
        "temperature_limit" => number(
            hose::temperature_limit(word(row, "kind_of_hose"))
                .value
                .to_celsius(),
        ),
        "working_pressure" => or_none(
            hose::working_pressure(word::<HoseKind>(row, "kind_of_hose"), mm(row, "bore_mm")),
            |pressure| end(row, pressure.value).to_bar(),
        ),
        "burst_factor" => {
            let of = row.text("class");
            let factor = hose::burst_factors()
                .iter()
                .find(|factor| factor.hose == of)?;
            number(end(row, factor.factor).to_f64())
        }
        "helix_bend" => {
            let rules = hose::bend_rules(word(row, "kind_of_hose"));
            let rule = rules
                .into_iter()
                .find(|rule| rule.used_as == hose::BendUse::Ratio)?;
            let bore = mm(row, "bore_mm");
            // The published radius must lie within the limits of the rule as well.
            let published = Length::mm(row.expected.parse().ok()?);
            assert!(
                rule.ratio.contains(quantity::Ratio::of(published / bore)),
                "{}",
                row.place
            );
            number((bore * rule.ratio.middle().to_f64()).to_mm())
        }
        "wall" => or_none(
            hose::wall(word::<HoseKind>(row, "kind_of_hose"), mm(row, "bore_mm")),
            |wall| end(row, wall.value).to_mm(),
        ),
        "collapse_pressure" => {
            let softness = word::<Softness>(row, "softness");
            let collapse =
                hose::collapse_pressure(mm(row, "bore_mm"), mm(row, "wall_mm"), softness);
            or_none(collapse, |pressure| pressure.value.to_bar())
        }
        "clip_range" => {
            let clip = find_clip(row);
            number(match row.text("end") {
                "closed" => clip.closed.to_mm(),
                "open" => clip.open.to_mm(),
                _ => clip.band?.to_mm(),
            })
        }
        "ear_travel" => {
            let open = mm(row, "open_mm");
            number(
                (open - clip::ear_closed_diameter(open, mm(row, "ear_mm"), mm(row, "ear_left_mm")))
                    .to_mm(),
            )
        }
        "ear_closing_share" => number(
            find_clip(row)
                .ear_closing_share(mm(row, "open_mm"))?
                .to_f64(),
        ),
        "ear_closing_share_least" => number(clip::ear_closing_share().value.low.to_f64()),
        "housing" => {
            let housing = clip::worm_housing();
            number(match row.text("designation") {
                "length" => housing.length.to_mm(),
                "width" => housing.width.to_mm(),
                _ => housing.height.to_mm(),
            })
        }
        "least_insertion" => {
            let needed = insertion::least_insertion(
                row.number("clips"),
                mm(row, "band_mm"),
                mm(row, "bead_mm"),
            );
            number(needed.to_mm())
        }
        "from_hose_end" => number(insertion::from_hose_end().value.to_mm()),
        "recommended_torque" => or_none(torques(row), |torques| {
            assert!(
                row.kind != rows::Kind::Printed
                    || row.source.starts_with(&torques.recommended.source.text),
                "{}: recommended is that of {}",
                row.place,
                torques.recommended.source.text,
            );
            torque(row, torques.recommended)
        }),
        "other_torque" => {
            let id = row.text("among");
            let torques = torques(row).ok()?;
            number(torque(
                row,
                torques.others.iter().find(|other| other.source.id == id)?,
            ))
        }
        "must_survive" => {
            let rows = torque::must_survive(word(row, "kind_of_clip"), mm(row, "band_mm"));
            let all = rows.iter().map(|row| row.torque.low);
            number(match row.text("end") {
                "low" => all.min()?.to_n_m(),
                _ => all.max()?.to_n_m(),
            })
        }
        "potential" => {
            let rows = metal::potentials(word(row, "a"), table(row));
            number(match row.text("end") {
                "low" => rows.iter().map(|row| row.range.low).min()?.to_volts(),
                _ => rows.iter().map(|row| row.range.high).max()?.to_volts(),
            })
        }
        "galvanic_gap" => {
            let gap = metal::galvanic_gap(word(row, "a"), word(row, "b"), table(row));
            or_none(gap, |gap| match row.text("end") {
                "least" => gap.least.to_volts(),
                _ => gap.most.to_volts(),
            })
        }
        "wastes" => {
            let (a, b): (Alloy, Alloy) = (word(row, "a"), word(row, "b"));
            let wastes = metal::galvanic_gap(a, b, table(row)).ok()?.wastes;
            Answer::Text(row.text(if wastes? == a { "a" } else { "b" }).to_owned())
        }
        "gap_limit" => number(metal::gap_limits()[0].limit.to_volts()),
        "dezincifies" => Answer::Text(
            match metal::metal(word(row, "a")).dezincifies {
                Proneness::Yes => "yes",
                Proneness::No => "no",
                Proneness::Unknown => "unknown",
            }
            .into(),
        ),
        "cut_length_tolerance" => number(
            hose::cut_length_tolerance(mm(row, "length_mm"))
                .value
                .to_mm(),
        ),
        "end_squareness" => or_none(hose::end_squareness(mm(row, "bore_mm")), |out| {
            out.value.to_mm()
        }),
        "heater_hose" => {
            let heater = hose::heater_hose(mm(row, "bore_mm"))?;
            number(match row.text("end") {
                "wall" => heater.wall.to_mm(),
                _ => heater.bore_plus_minus.to_mm(),
            })
        }
        "contact_pressure" => {
            let pressure = torque::contact_pressure(
                Torque::n_m(row.number("torque_nm")),
                mm(row, "lead_mm"),
                Ratio::of(row.number("efficiency")),
                mm(row, "diameter_mm"),
                mm(row, "band_mm"),
            );
            or_none(pressure, |pressure| pressure.to_pa() / 1e6)
        }
        "clips_wanted" => {
            let rule = rule::clip_rule(row.text("rule"))?;
            let on_bead = rule.clips_on_bead.filter(|_| row.text("bead") == "yes");
            number(f64::from(on_bead.or(rule.clips)?))
        }
        "rule_pressure" => number(rule::clip_rule(row.text("rule"))?.pressure_below?.to_bar()),
        "smallest_bend" => {
            let rules = hose::bend_rules(word(row, "kind_of_hose"));
            let printed = |rule: &&&hose::BendRule| {
                rule.used_as == hose::BendUse::Smallest && rule.source.status == Status::Printed
            };
            number(rules.iter().find(printed)?.ratio.low.to_f64())
        }
        _ => {
            return crate::liquids::answer(row)
                .or_else(|| crate::threads::answer(row))
                .or_else(|| crate::flow_rows::answer(row))
                .or_else(|| crate::trade::answer(row))
                .or_else(|| crate::lumped::answer(row));
        }
    })
}

#[test]
fn every_row_agrees() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let count = rows::walk(&folder, answer).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert!(count.counted >= 100, "too few rows count: {count:?}");
    assert!(5 * count.limits <= count.counted, "{count:?}");
}

#[test]
fn a_row_of_an_unknown_function_or_a_wrong_number_is_found() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let unknown = rows::walk(&folder, |_| None).expect_err("no function is known");
    assert!(unknown.contains("no function `bore_limits`"));
    let wrong = rows::walk(&folder, |_| Some(number(1e6))).expect_err("no answer is a million");
    assert!(wrong.contains("bore_limits gives 1000000"));
}
