//! No import circle of more than two files, in any crate of the workspace.
//!
//! A file imports another when it names something that is declared there, by `use` or by a path from `crate` or `super`.
//! A name that a parent hands on (`pub use child::X`) counts for the file that declares it, and neither the declaration
//! of a child, nor the handing on, nor a call by the child's own name is an import of the parent's. Test modules do not
//! count.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support {
    pub(crate) mod sources;
}

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use cargo_metadata::{Metadata, MetadataCommand};
use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;

use support::sources::Sources;

/// Files that import each other in a circle.
const MOST: usize = 2;

/// The circles of more than two files, each with the items that tie its files.
fn circles(root: &Path, read: &dyn Fn(&Path) -> Option<String>) -> Vec<String> {
    let imports = Sources::of(root, read).imports();
    let mut graph = DiGraph::<&Path, Vec<&str>>::new();
    let mut nodes = BTreeMap::new();
    for ((from, to), items) in &imports {
        let [from, to] = [from, to].map(|file| *nodes.entry(file).or_insert_with(|| graph.add_node(file)));
        graph.add_edge(from, to, items.iter().map(String::as_str).collect());
    }
    let mut found = Vec::new();
    for part in tarjan_scc(&graph).into_iter().filter(|part| part.len() > MOST) {
        let mut ties: Vec<String> = graph
            .edge_indices()
            .filter_map(|edge| graph.edge_endpoints(edge).map(|ends| (edge, ends)))
            .filter(|(_, (from, to))| part.contains(from) && part.contains(to))
            .map(|(edge, (from, to))| {
                let [from, to] = [from, to].map(|file| graph[file].display());
                format!("  {from} imports {} from {to}", graph[edge].join(", "))
            })
            .collect();
        ties.sort();
        found.push(format!("a circle of {} files:\n{}", part.len(), ties.join("\n")));
    }
    found
}

/// The sources of the workspace: the root file of every library and program in it.
fn roots(workspace: &Metadata) -> Vec<PathBuf> {
    let targets = workspace.packages.iter().flat_map(|package| &package.targets);
    let ours = targets.filter(|target| target.is_lib() || target.is_bin());
    let inside = ours.filter_map(|target| target.src_path.strip_prefix(&workspace.workspace_root).ok());
    inside.map(|path| path.as_std_path().to_owned()).collect()
}

#[test]
fn no_circle_of_more_than_two_files() {
    let workspace = MetadataCommand::new().no_deps().exec().unwrap();
    let roots = roots(&workspace);
    assert!(roots.len() > 12, "the workspace has more crates than {}", roots.len());
    let read = |path: &Path| fs::read_to_string(workspace.workspace_root.as_std_path().join(path)).ok();
    let found: Vec<String> = roots.iter().flat_map(|root| circles(root, &read)).collect();
    assert!(found.is_empty(), "{}", found.join("\n\n"));
}

/// Circles in a crate of some files.
fn in_files(files: &[(&str, &str)]) -> Vec<String> {
    let files: BTreeMap<&Path, &str> = files.iter().map(|(name, text)| (Path::new(*name), *text)).collect();
    circles(Path::new("lib.rs"), &|path| {
        files.get(path).map(|text| (*text).to_owned())
    })
}

#[test]
fn a_circle_of_three_is_found_with_what_ties_it() {
    let found = in_files(&[
        ("lib.rs", "mod a; mod b; mod c; mod d;"),
        ("a.rs", "use crate::b::{B, Other as O}; pub struct A;"),
        (
            "b.rs",
            "pub struct B; pub struct Other; mod below { fn f() { super::super::c::go(); } }",
        ),
        ("c.rs", "pub fn go() { println!(\"{:?}\", crate::a::A); }"),
        ("d.rs", "use crate::a::A;"),
    ]);
    assert_eq!(
        found,
        [
            "a circle of 3 files:\n  a.rs imports B, Other from b.rs\n  b.rs imports go from c.rs\n  c.rs imports A from a.rs"
        ]
    );
}

#[test]
fn what_a_parent_hands_on_counts_for_the_file_that_declares_it() {
    let parent = ("p.rs", "mod leaf; mod user; pub use leaf::Leaf; pub use user::User;");
    let through = [
        ("lib.rs", "pub mod p; mod q; pub use p::Leaf; fn f() { q::go(); }"),
        parent,
        ("p/leaf.rs", "pub struct Leaf;"),
        (
            "p/user.rs",
            "use super::Leaf; use crate::q::Q; pub struct User(Leaf, Q);",
        ),
        ("q.rs", "use crate::Leaf; pub struct Q(Leaf); pub fn go() {}"),
    ];
    assert_eq!(in_files(&through), [""; 0]);
    let tied = through.map(|(name, text)| match name {
        "p/leaf.rs" => (name, "pub struct Leaf(crate::p::User);"),
        _ => (name, text),
    });
    assert_eq!(in_files(&tied).len(), 1);
}

#[test]
fn tests_and_pairs_do_not_count() {
    let found = in_files(&[
        ("lib.rs", "mod a; mod b; mod c;"),
        (
            "a.rs",
            "use crate::b::B; pub struct A; #[cfg(test)] mod tests { use crate::c::C; }",
        ),
        ("b.rs", "use crate::a::A; use crate::c::C; pub struct B;"),
        ("c.rs", "pub struct C; #[cfg(test)] use crate::a::A;"),
    ]);
    assert_eq!(found, [""; 0]);
}
