//! Whether every public item of a crate says its unit, its range and its source.
//!
//! The module stands alone (`syn` and the standard library), so that other crates' tests can
//! include this very file by `#[path]`.

use std::path::Path;

use syn::visit::{self, Visit};

/// The words that a public item's docs must have.
pub(crate) const FACTS: [&str; 3] = ["Unit:", "Range:", "Source:"];

/// The public items under `src` whose docs lack one of [`FACTS`], as `file.rs: item lacks Unit:`.
///
/// Functions, methods, structs, their fields, enums, traits, their methods, constants and types
/// are looked at. Variants are excused, for the docs of the enum cover them, but the fields of a
/// variant are not. What macros make is left to `missing_docs`.
pub(crate) fn undocumented(src: &Path) -> Vec<String> {
    let mut found = Vec::new();
    for path in rust_files(src) {
        let text = read(&path);
        let file =
            syn::parse_file(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let name = path
            .strip_prefix(src)
            .unwrap_or(&path)
            .display()
            .to_string();
        let mut walker = Walker {
            file: name,
            owner: String::new(),
            seen: 0,
            found: Vec::new(),
        };
        walker.visit_file(&file);
        found.extend(walker.found);
    }
    found
}

/// How many public items under `src` were looked at, so that a test can tell that the walk works.
pub(crate) fn looked_at(src: &Path) -> usize {
    let count = |path: &std::path::PathBuf| {
        let file = syn::parse_file(&read(path))
            .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let mut walker = Walker {
            file: String::new(),
            owner: String::new(),
            seen: 0,
            found: Vec::new(),
        };
        walker.visit_file(&file);
        walker.seen
    };
    rust_files(src).iter().map(count).sum()
}

#[allow(clippy::disallowed_methods)] // The ban binds the crate, not the tests that read its source.
fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn rust_files(folder: &Path) -> Vec<std::path::PathBuf> {
    let entries = folder
        .read_dir()
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let mut paths: Vec<_> = entries
        .map(|entry| entry.expect("a folder that can be listed").path())
        .collect();
    paths.sort();
    paths
        .into_iter()
        .flat_map(|path| match path.is_dir() {
            true => rust_files(&path),
            false if path.extension().is_some_and(|ext| ext == "rs") => vec![path],
            false => Vec::new(),
        })
        .collect()
}

struct Walker {
    file: String,
    owner: String,
    seen: usize,
    found: Vec<String>,
}

impl Walker {
    fn check(&mut self, name: &str, attrs: &[syn::Attribute]) {
        self.seen += 1;
        let docs: String = attrs
            .iter()
            .filter_map(doc_line)
            .collect::<Vec<_>>()
            .join("\n");
        for fact in FACTS.iter().filter(|fact| !docs.contains(**fact)) {
            let owner = &self.owner;
            self.found
                .push(format!("{}: {owner}{name} lacks {fact}", self.file));
        }
    }

    fn check_fields(&mut self, owner: &str, fields: &syn::Fields, all_public: bool) {
        for field in fields {
            if let Some(name) = &field.ident
                && (all_public || is_public(&field.vis))
            {
                self.check(&format!("{owner}.{name}"), &field.attrs);
            }
        }
    }
}

fn doc_line(attr: &syn::Attribute) -> Option<String> {
    let syn::Meta::NameValue(pair) = &attr.meta else {
        return None;
    };
    if !pair.path.is_ident("doc") {
        return None;
    }
    match &pair.value {
        syn::Expr::Lit(syn::ExprLit {
            lit: syn::Lit::Str(text),
            ..
        }) => Some(text.value()),
        // A line that a macro puts together: its pieces are as good.
        other => Some(format!("{other:?}")),
    }
}

fn is_public(visibility: &syn::Visibility) -> bool {
    matches!(visibility, syn::Visibility::Public(_))
}

fn is_test(attrs: &[syn::Attribute]) -> bool {
    attrs.iter().any(|attr| match &attr.meta {
        syn::Meta::List(list) => {
            list.path.is_ident("cfg") && list.tokens.to_string().contains("test")
        }
        _ => false,
    })
}

impl<'ast> Visit<'ast> for Walker {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !is_test(&item.attrs) {
            visit::visit_item_mod(self, item);
        }
    }

    // A function's body has no public items.
    fn visit_block(&mut self, _: &'ast syn::Block) {}

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if is_public(&item.vis) {
            self.check(&item.sig.ident.to_string(), &item.attrs);
        }
    }

    fn visit_item_struct(&mut self, item: &'ast syn::ItemStruct) {
        if is_public(&item.vis) {
            let name = item.ident.to_string();
            self.check(&name, &item.attrs);
            self.check_fields(&name, &item.fields, false);
        }
    }

    fn visit_item_enum(&mut self, item: &'ast syn::ItemEnum) {
        if is_public(&item.vis) {
            self.check(&item.ident.to_string(), &item.attrs);
            for variant in &item.variants {
                self.check_fields(
                    &format!("{}::{}", item.ident, variant.ident),
                    &variant.fields,
                    true,
                );
            }
        }
    }

    fn visit_item_trait(&mut self, item: &'ast syn::ItemTrait) {
        if is_public(&item.vis) {
            self.check(&item.ident.to_string(), &item.attrs);
            for part in &item.items {
                let (name, attrs) = match part {
                    syn::TraitItem::Fn(part) => (&part.sig.ident, &part.attrs),
                    syn::TraitItem::Const(part) => (&part.ident, &part.attrs),
                    syn::TraitItem::Type(part) => (&part.ident, &part.attrs),
                    _ => continue,
                };
                self.check(&format!("{}::{name}", item.ident), attrs);
            }
        }
    }

    fn visit_item_const(&mut self, item: &'ast syn::ItemConst) {
        if is_public(&item.vis) {
            self.check(&item.ident.to_string(), &item.attrs);
        }
    }

    fn visit_item_static(&mut self, item: &'ast syn::ItemStatic) {
        if is_public(&item.vis) {
            self.check(&item.ident.to_string(), &item.attrs);
        }
    }

    fn visit_item_type(&mut self, item: &'ast syn::ItemType) {
        if is_public(&item.vis) {
            self.check(&item.ident.to_string(), &item.attrs);
        }
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        // What a trait asks for is documented at the trait.
        if item.trait_.is_some() {
            return;
        }
        if let syn::Type::Path(path) = &*item.self_ty
            && let Some(last) = path.path.segments.last()
        {
            self.owner = format!("{}::", last.ident);
        }
        for part in &item.items {
            match part {
                syn::ImplItem::Fn(part) if is_public(&part.vis) => {
                    self.check(&part.sig.ident.to_string(), &part.attrs);
                }
                syn::ImplItem::Const(part) if is_public(&part.vis) => {
                    self.check(&part.ident.to_string(), &part.attrs);
                }
                _ => {}
            }
        }
        self.owner.clear();
    }
}
