//! A crate's sources as modules, and which file imports what from which.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};
use syn::{Attribute, Item, UseTree, Visibility};

/// How many names may hand a name on before it is given up.
const MOST_HANDS: usize = 16;

/// The modules of a crate; the root is the first.
pub(crate) struct Sources {
    modules: Vec<Module>,
}

struct Module {
    file: PathBuf,
    parent: usize,
    children: BTreeMap<String, usize>,
    /// Names declared here.
    declared: BTreeSet<String>,
    /// Names imported here, and paths whose every name is.
    imported: BTreeMap<String, Vec<String>>,
    globs: Vec<Vec<String>>,
    /// Paths that it names, and whether it only hands them on.
    named: Vec<(Vec<String>, bool)>,
}

impl Sources {
    /// The crate of a root file.
    pub(crate) fn of(root: &Path, read: &dyn Fn(&Path) -> Option<String>) -> Self {
        let mut sources = Self { modules: Vec::new() };
        let folder = root.parent().unwrap().to_owned();
        sources.file(root, &folder, 0, read);
        sources
    }

    /// From which file to which, and the items.
    pub(crate) fn imports(&self) -> BTreeMap<(PathBuf, PathBuf), BTreeSet<String>> {
        let mut out: BTreeMap<_, BTreeSet<String>> = BTreeMap::new();
        for (at, module) in self.modules.iter().enumerate() {
            for (path, handed_on) in &module.named {
                let Some((target, item)) = self.resolve(at, path, 0) else {
                    continue;
                };
                let child = *handed_on && path.first().is_some_and(|first| module.children.contains_key(first));
                let other = &self.modules[target].file;
                if !child && *other != module.file {
                    out.entry((module.file.clone(), other.clone())).or_default().insert(item);
                }
            }
        }
        out
    }

    fn file(&mut self, path: &Path, folder: &Path, parent: usize, read: &dyn Fn(&Path) -> Option<String>) -> usize {
        let text = read(path).unwrap_or_else(|| panic!("{} is not there", path.display()));
        let parsed = syn::parse_file(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        self.module(path, folder, parent, parsed.items, read)
    }

    fn module(
        &mut self,
        file: &Path,
        folder: &Path,
        parent: usize,
        items: Vec<Item>,
        read: &dyn Fn(&Path) -> Option<String>,
    ) -> usize {
        let at = self.modules.len();
        self.modules.push(Module {
            file: file.to_owned(),
            parent,
            children: BTreeMap::new(),
            declared: BTreeSet::new(),
            imported: BTreeMap::new(),
            globs: Vec::new(),
            named: Vec::new(),
        });
        for item in items {
            if is_test(attributes(&item)) {
                continue;
            }
            let Item::Mod(child) = item else {
                self.modules[at].take(&item);
                continue;
            };
            let name = child.ident.to_string();
            let below = folder.join(&name);
            let made = match child.content {
                Some((_, items)) => self.module(file, &below, at, items, read),
                None => {
                    let beside = folder.join(format!("{name}.rs"));
                    let inside = below.join("mod.rs");
                    let path = if read(&beside).is_some() { beside } else { inside };
                    self.file(&path, &below, at, read)
                }
            };
            self.modules[at].children.insert(name, made);
        }
        at
    }

    /// The module that a path seen from a module leads to, and the item in it; `None` outside of the crate.
    fn resolve(&self, from: usize, path: &[String], hands: usize) -> Option<(usize, String)> {
        let mut at = from;
        let mut rest = path;
        while let Some((name, after)) = rest.split_first() {
            match name.as_str() {
                "crate" => at = 0,
                "self" => {}
                "super" => at = self.modules[at].parent,
                _ => break,
            }
            rest = after;
        }
        let anchored = rest.len() < path.len();
        while let Some((name, after)) = rest.split_first() {
            let module = &self.modules[at];
            if let Some(child) = module.children.get(name) {
                at = *child;
                rest = after;
                continue;
            }
            if module.declared.contains(name) {
                return Some((at, name.clone()));
            }
            if hands > MOST_HANDS {
                return None;
            }
            let handed = module.imported.get(name).map(|path| [path, after].concat());
            if let Some(path) = handed.filter(|of| of != path) {
                return self.resolve(at, &path, hands + 1);
            }
            let globbed = module.globs.iter().map(|glob| [glob, rest].concat());
            let found = globbed.filter(|of| of != path).find_map(|of| self.resolve(at, &of, hands + 1));
            return found.or_else(|| (anchored || at != from).then(|| (at, name.clone())));
        }
        let last = path.last().cloned().unwrap_or_default();
        (anchored || at != from).then_some((at, last))
    }
}

impl Module {
    fn take(&mut self, item: &Item) {
        if let Item::Use(of) = item {
            let handed_on = !matches!(of.vis, Visibility::Inherited);
            return self.take_use(&of.tree, &mut Vec::new(), handed_on);
        }
        self.declared.extend(name_of(item));
        self.visit_item(item);
    }

    fn take_use(&mut self, tree: &UseTree, before: &mut Vec<String>, handed_on: bool) {
        let mut leaf = |path: Vec<String>, name: String| {
            self.imported.insert(name, path.clone());
            self.named.push((path, handed_on));
        };
        match tree {
            UseTree::Path(of) => {
                before.push(of.ident.to_string());
                self.take_use(&of.tree, before, handed_on);
                before.pop();
            }
            UseTree::Name(of) if of.ident == "self" => leaf(before.clone(), before.last().cloned().unwrap_or_default()),
            UseTree::Name(of) => leaf([&before[..], &[of.ident.to_string()]].concat(), of.ident.to_string()),
            UseTree::Rename(of) => leaf([&before[..], &[of.ident.to_string()]].concat(), of.rename.to_string()),
            UseTree::Glob(_) => {
                self.globs.push(before.clone());
                self.named.push((before.clone(), handed_on));
            }
            UseTree::Group(of) => of.items.iter().for_each(|tree| self.take_use(tree, before, handed_on)),
        }
    }

    /// Paths in what a macro is given, which is not parsed.
    fn take_tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut colons = 0;
        for token in tokens {
            match token {
                TokenTree::Ident(ident) => {
                    if colons != 2 {
                        self.take_path(std::mem::take(&mut path));
                    }
                    path.push(ident.to_string());
                    colons = 0;
                }
                TokenTree::Punct(punct) if punct.as_char() == ':' => colons += 1,
                other => {
                    self.take_path(std::mem::take(&mut path));
                    colons = 0;
                    if let TokenTree::Group(group) = other {
                        self.take_tokens(group.stream());
                    }
                }
            }
        }
        self.take_path(path);
    }

    /// Paths from elsewhere begin with one of these; any other name was imported, or is a child's.
    fn take_path(&mut self, path: Vec<String>) {
        if path.len() > 1 && matches!(path[0].as_str(), "crate" | "super") {
            self.named.push((path, false));
        }
    }
}

impl<'ast> Visit<'ast> for Module {
    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.take_path(path.segments.iter().map(|part| part.ident.to_string()).collect());
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, of: &'ast syn::Macro) {
        self.take_tokens(of.tokens.clone());
        visit::visit_macro(self, of);
    }

    fn visit_item_use(&mut self, of: &'ast syn::ItemUse) {
        self.take_use(&of.tree, &mut Vec::new(), false);
    }

    fn visit_visibility(&mut self, _: &'ast Visibility) {}

    fn visit_attribute(&mut self, _: &'ast Attribute) {}
}

fn is_test(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let inside = attribute.meta.require_list().map(|list| list.tokens.to_string());
        attribute.path().is_ident("cfg") && inside.is_ok_and(|tokens| tokens == "test")
    })
}

fn attributes(item: &Item) -> &[Attribute] {
    match item {
        Item::Const(of) => &of.attrs,
        Item::Enum(of) => &of.attrs,
        Item::Fn(of) => &of.attrs,
        Item::Impl(of) => &of.attrs,
        Item::Macro(of) => &of.attrs,
        Item::Mod(of) => &of.attrs,
        Item::Static(of) => &of.attrs,
        Item::Struct(of) => &of.attrs,
        Item::Trait(of) => &of.attrs,
        Item::Type(of) => &of.attrs,
        Item::Use(of) => &of.attrs,
        _ => &[],
    }
}

fn name_of(item: &Item) -> Option<String> {
    Some(match item {
        Item::Const(of) => of.ident.to_string(),
        Item::Enum(of) => of.ident.to_string(),
        Item::Fn(of) => of.sig.ident.to_string(),
        Item::Macro(of) => of.ident.as_ref()?.to_string(),
        Item::Static(of) => of.ident.to_string(),
        Item::Struct(of) => of.ident.to_string(),
        Item::Trait(of) => of.ident.to_string(),
        Item::Type(of) => of.ident.to_string(),
        _ => return None,
    })
}
