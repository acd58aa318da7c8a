//! What is said of a joint to a reader of screens.

use super::StripStation;
use crate::say;
use crate::stages::types::JointRow;
use crate::verdict::{Grade, Words};
use crate::wire::Answer;

/// `A2, joint, hose 38 epdm on tee, 180 mm below the waterline, unsound: …`
pub(super) fn joint(answer: &Answer, station: &StripStation, row: Option<&JointRow>) -> Words {
    let worst = answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.subject == station.key)
        .max_by_key(|verdict| verdict.grade);
    Words::of(|system| {
        let what = row.map_or_else(String::new, |row| {
            format!(", {} on {}", row.hose, row.spigot_name)
        });
        let height = match station.z {
            None => "height unmeasured".to_owned(),
            Some(z) if z < 0.0 => {
                format!("{} below the waterline", say::whole_mm(-z, system))
            }
            Some(z) => format!("{} above the waterline", say::whole_mm(z, system)),
        };
        let grade = station.grade.unwrap_or(Grade::Unmeasured).word();
        let because = worst
            .filter(|verdict| verdict.grade != Grade::Sound)
            .map_or_else(String::new, |verdict| {
                format!(": {}", verdict.because.in_units(system))
            });
        format!("{}, joint{what}, {height}, {grade}{because}", station.mark)
    })
}
