//! Whether every dependency may be shipped: its licence, by its own statement, against
//! `licences.toml`. Needs no network.

use std::collections::BTreeMap;
use std::path::Path;

use serde::Deserialize;
use spdx::{Expression, Licensee, ParseMode};

use crate::metadata::{self, Metadata};
use crate::{Fault, tree};

const LIST: &str = "licences.toml";

/// The project's own licence.
const OWN: &str = "MIT OR Apache-2.0";

/// What `licences.toml` holds.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Allowed {
    /// Licences under which a crate may go into the program.
    pub everywhere: Vec<String>,
    /// Licences that will do for what is only used to test, measure or build.
    pub not_shipped: Vec<String>,
    /// Crates that state no licence in the form of SPDX, and what theirs is.
    #[serde(default)]
    pub stated_elsewhere: BTreeMap<String, String>,
}

/// Checks the real workspace.
pub fn check(root: &Path) -> Result<(), Fault> {
    let text = tree::read(root, LIST)?;
    let allowed: Allowed = toml::from_str(&text).map_err(|e| format!("{LIST}: {e}"))?;
    let metadata = metadata::read(root)?;
    let faults = faults(&allowed, &metadata)?;
    if faults.is_empty() {
        println!(
            "   {} crates, every licence allowed",
            metadata.packages.len()
        );
        Ok(())
    } else {
        Err(faults.join("\n"))
    }
}

/// Every crate whose licence is not allowed, each with the reason.
pub fn faults(allowed: &Allowed, metadata: &Metadata) -> Result<Vec<Fault>, Fault> {
    let read = |names: &[String]| {
        names
            .iter()
            .map(|name| Licensee::parse(name).map_err(|e| format!("{LIST}: {e}")))
            .collect::<Result<Vec<_>, _>>()
    };
    let everywhere = read(&allowed.everywhere)?;
    let not_shipped = read(&allowed.not_shipped)?;
    let shipped = metadata.shipped_with("hosewright");
    if shipped.is_empty() {
        return Err("the workspace has no crate `hosewright`".to_owned());
    }
    let mut faults = Vec::new();
    for package in &metadata.packages {
        let name = format!("{} {}", package.name, package.version);
        let own = metadata.workspace_members.contains(&package.id);
        if own && package.license.as_deref() != Some(OWN) {
            faults.push(format!("{name}: its licence is to be {OWN}"));
        }
        let Some(stated) = package
            .license
            .as_ref()
            .or_else(|| allowed.stated_elsewhere.get(&package.name))
        else {
            faults.push(format!("{name}: states no licence"));
            continue;
        };
        // The slash is an old way to write OR.
        let expression = match Expression::parse_mode(stated, ParseMode::LAX) {
            Ok(expression) => expression,
            Err(error) => {
                faults.push(format!("{name}: licence `{stated}`: {}", error.reason));
                continue;
            }
        };
        let is_shipped = shipped.contains(package.id.as_str());
        let good = expression.evaluate(|wanted| {
            let satisfies = |licensee: &Licensee| licensee.satisfies(wanted);
            everywhere.iter().any(satisfies) || !is_shipped && not_shipped.iter().any(satisfies)
        });
        if !good {
            let used = if is_shipped { "shipped" } else { "not shipped" };
            faults.push(format!(
                "{name} ({used}): licence `{stated}` is not allowed by {LIST}"
            ));
        }
    }
    Ok(faults)
}
