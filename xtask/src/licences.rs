//! Whether every dependency may be shipped: its licence, by its own statement, against
//! `licences.toml`. Needs no network.

use std::collections::BTreeMap;
use std::path::Path;

use serde::Deserialize;
use spdx::{Expression, Licensee, ParseMode};

use crate::metadata::{self, Metadata};
use crate::{Fault, page, tree};

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
    /// Licences that will do for type, which is data and is shipped.
    pub fonts: Vec<String>,
    /// Crates that state no licence in the form of SPDX, and what theirs is.
    #[serde(default)]
    pub stated_elsewhere: BTreeMap<String, String>,
}

/// What a dependency is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Used {
    /// It goes into the program, or runs while it is built.
    Shipped,
    /// Type, which goes into the program as data.
    Type,
    /// It tests, measures or does chores.
    NotShipped,
}

impl Allowed {
    /// Why a dependency may not be used so; `None` where it may.
    pub fn fault(&self, name: &str, stated: &str, used: Used) -> Result<Option<Fault>, Fault> {
        // The slash is an old way to write OR.
        let expression = match Expression::parse_mode(stated, ParseMode::LAX) {
            Ok(expression) => expression,
            Err(error) => {
                return Ok(Some(format!(
                    "{name}: licence `{stated}`: {}",
                    error.reason
                )));
            }
        };
        let (more, used): (&[String], _) = match used {
            Used::Shipped => (&[], "shipped"),
            Used::Type => (&self.fonts, "type"),
            Used::NotShipped => (&self.not_shipped, "not shipped"),
        };
        let licences = self
            .everywhere
            .iter()
            .chain(more)
            .map(|name| Licensee::parse(name).map_err(|e| format!("{LIST}: {e}")))
            .collect::<Result<Vec<_>, _>>()?;
        let good = expression.evaluate(|wanted| licences.iter().any(|one| one.satisfies(wanted)));
        Ok(
            (!good)
                .then(|| format!("{name} ({used}): licence `{stated}` is not allowed by {LIST}")),
        )
    }
}

/// Checks the real workspace.
pub fn check(root: &Path) -> Result<(), Fault> {
    let text = tree::read(root, LIST)?;
    let allowed: Allowed = toml::from_str(&text).map_err(|e| format!("{LIST}: {e}"))?;
    let metadata = metadata::read(root)?;
    let mut faults = faults(&allowed, &metadata)?;
    faults.extend(page::licences(root, &allowed)?);
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
        let used = if shipped.contains(package.id.as_str()) {
            Used::Shipped
        } else {
            Used::NotShipped
        };
        faults.extend(allowed.fault(&name, stated, used)?);
    }
    Ok(faults)
}
