//! What cargo knows of the workspace: crates, edges, licences.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Stdio;

use serde::Deserialize;

use crate::{Fault, steps};

/// The part of `cargo metadata` that the chores read.
#[derive(Clone, Debug, Deserialize)]
pub struct Metadata {
    pub packages: Vec<Package>,
    pub workspace_members: Vec<String>,
    pub resolve: Resolve,
    pub target_directory: PathBuf,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Package {
    pub id: String,
    pub name: String,
    pub version: String,
    pub license: Option<String>,
    pub rust_version: Option<String>,
    pub edition: String,
    pub source: Option<String>,
    pub publish: Option<Vec<String>>,
    pub dependencies: Vec<Dependency>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Dependency {
    pub name: String,
    pub kind: Option<String>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Resolve {
    pub nodes: Vec<Node>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Node {
    pub id: String,
    pub deps: Vec<NodeDependency>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct NodeDependency {
    pub pkg: String,
    pub dep_kinds: Vec<DependencyKind>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct DependencyKind {
    pub kind: Option<String>,
}

/// Asks cargo, first without any network: everything is there once the project has been built.
/// Only what no build on this platform needs may still have to be fetched.
pub fn read(root: &Path) -> Result<Metadata, Fault> {
    let ask = |offline: bool| {
        let mut command = steps::cargo(root);
        command.args(["metadata", "--format-version", "1", "--locked"]);
        if offline {
            command.arg("--offline");
        }
        steps::capture(&mut command)
    };
    let printed = ask(true).or_else(|_| ask(false))?;
    serde_json::from_str(&printed).map_err(|e| format!("cargo metadata: {e}"))
}

impl Metadata {
    /// The workspace's own crates, in order of name.
    pub fn members(&self) -> Vec<&Package> {
        let mut members: Vec<&Package> = self
            .packages
            .iter()
            .filter(|package| self.workspace_members.contains(&package.id))
            .collect();
        members.sort_by(|a, b| a.name.cmp(&b.name));
        members
    }

    /// Which of the workspace's crates each of them depends on, in what is shipped.
    pub fn edges(&self) -> BTreeMap<String, BTreeSet<String>> {
        let names: BTreeSet<&str> = self.members().iter().map(|m| m.name.as_str()).collect();
        let edges = |package: &Package| {
            package
                .dependencies
                .iter()
                .filter(|d| d.kind.as_deref() != Some("dev") && names.contains(d.name.as_str()))
                .map(|d| d.name.clone())
                .collect()
        };
        self.members()
            .into_iter()
            .map(|package| (package.name.clone(), edges(package)))
            .collect()
    }

    /// The ids of the packages that are built into the named one or run while it is built.
    pub fn shipped_with(&self, name: &str) -> BTreeSet<&str> {
        let nodes: BTreeMap<&str, &Node> = self
            .resolve
            .nodes
            .iter()
            .map(|node| (node.id.as_str(), node))
            .collect();
        let mut reached = BTreeSet::new();
        let mut waiting: Vec<&str> = self
            .members()
            .iter()
            .filter(|package| package.name == name)
            .map(|package| package.id.as_str())
            .collect();
        while let Some(id) = waiting.pop() {
            if !reached.insert(id) {
                continue;
            }
            for dependency in nodes.get(id).into_iter().flat_map(|node| &node.deps) {
                if dependency
                    .dep_kinds
                    .iter()
                    .any(|kind| kind.kind.as_deref() != Some("dev"))
                {
                    waiting.push(&dependency.pkg);
                }
            }
        }
        reached
    }
}

/// What cargo says of a thing that it built.
#[derive(Deserialize)]
struct Built {
    reason: String,
    executable: Option<PathBuf>,
    target: Option<Target>,
    profile: Option<Profile>,
}

#[derive(Deserialize)]
struct Profile {
    test: bool,
}

#[derive(Deserialize)]
struct Target {
    name: String,
}

/// How to build the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Build {
    /// As `cargo build` does: the program alone.
    Plain,
    /// As the tests have built it already: other features of dependencies would build them anew.
    Tests,
    /// For use and for measuring.
    Release,
}

/// Builds the program and says where it stands.
pub fn build_program(root: &Path, build: Build) -> Result<PathBuf, Fault> {
    let mut command = steps::cargo(root);
    match build {
        Build::Plain => command.arg("build"),
        Build::Tests => command.args(["test", "--workspace", "--no-run"]),
        Build::Release => command.args(["build", "--release"]),
    };
    let typed = steps::typed(&command);
    println!("   $ {typed}");
    command.arg("--message-format=json-render-diagnostics");
    // Progress and faults go straight to the reader; only the messages are read here.
    let output = command
        .stdin(Stdio::null())
        .stderr(Stdio::inherit())
        .output()
        .map_err(|e| format!("`{typed}` does not start: {e}"))?;
    if !output.status.success() {
        return Err(format!("`{typed}` ended with {}", output.status));
    }
    String::from_utf8_lossy(&output.stdout)
        .lines()
        .filter_map(|line| serde_json::from_str::<Built>(line).ok())
        .filter(|built| built.reason == "compiler-artifact")
        .filter(|built| {
            let of_program = |target: &Target| target.name == "hosewright";
            let is_test = |profile: &Profile| profile.test;
            built.target.as_ref().is_some_and(of_program)
                && !built.profile.as_ref().is_some_and(is_test)
        })
        .find_map(|built| built.executable)
        .ok_or_else(|| format!("`{typed}` made no program `hosewright`"))
}
