//! The branches of one file of source: the blocks of its functions, ifs and loops, the arms of its
//! matches, its closures, and the way past an `if` that has no `else`.

use crate::faults::{Site, Sort, is_test};
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Expr, ItemMod, Type};

/// All branches of a file, outer ones before those inside them.
pub fn branches(text: &str) -> Result<Vec<Site>, syn::Error> {
    let file = syn::parse_file(text)?;
    let mut search = Search {
        text,
        sites: Vec::new(),
        function: String::new(),
        now: "block",
    };
    search.visit_file(&file);
    let mut sites = search.sites;
    sites.sort_by_key(|site| (site.range.start, std::cmp::Reverse(site.range.end)));
    Ok(sites)
}

struct Search<'t> {
    text: &'t str,
    sites: Vec<Site>,
    function: String,
    now: &'static str,
}

impl Search<'_> {
    fn add(&mut self, range: Range<usize>, sort: Sort, now: &str) {
        self.sites.push(Site {
            line: 1 + self.text[..range.start].matches('\n').count(),
            range,
            sort,
            instead: vec![String::new()],
            function: self.function.clone(),
            now: now.to_owned(),
        });
    }

    fn wrapped(&mut self, body: &Expr, now: &str) {
        if !matches!(body, Expr::Block(_)) {
            self.add(body.span().byte_range(), Sort::Wrapped, now);
        }
    }

    fn of_function(&mut self, signature: &syn::Signature, block: &syn::Block) {
        if signature.constness.is_none() {
            self.function = signature.ident.to_string();
            self.now = "function";
            self.visit_block(block);
        }
    }
}

impl<'ast> Visit<'ast> for Search<'_> {
    fn visit_item_mod(&mut self, module: &'ast ItemMod) {
        if !is_test(&module.attrs) {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        if !is_test(&item.attrs) {
            visit::visit_item_impl(self, item);
        }
    }

    fn visit_item_fn(&mut self, function: &'ast syn::ItemFn) {
        if !is_test(&function.attrs) {
            self.of_function(&function.sig, &function.block);
        }
    }

    fn visit_impl_item_fn(&mut self, function: &'ast syn::ImplItemFn) {
        if !is_test(&function.attrs) {
            self.of_function(&function.sig, &function.block);
        }
    }

    fn visit_trait_item_fn(&mut self, function: &'ast syn::TraitItemFn) {
        if let Some(block) = &function.default {
            self.of_function(&function.sig, block);
        }
    }

    // What must be known when the program is built cannot be watched.
    fn visit_item_const(&mut self, _: &'ast syn::ItemConst) {}
    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_item_static(&mut self, _: &'ast syn::ItemStatic) {}
    fn visit_type(&mut self, _: &'ast Type) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_generic_argument(&mut self, _: &'ast syn::GenericArgument) {}

    fn visit_block(&mut self, block: &'ast syn::Block) {
        let now = std::mem::replace(&mut self.now, "block");
        if !block.stmts.is_empty() {
            let start = block.brace_token.span.open().byte_range().end;
            self.add(start..start, Sort::Begun, now);
        }
        visit::visit_block(self, block);
    }

    fn visit_expr_if(&mut self, choice: &'ast syn::ExprIf) {
        visit::visit_expr_if(self, choice);
        if choice.else_branch.is_none() {
            let end = choice.then_branch.span().byte_range().end;
            self.add(end..end, Sort::Else, "past the if");
        }
    }

    fn visit_arm(&mut self, arm: &'ast syn::Arm) {
        self.wrapped(&arm.body, "arm");
        self.now = "arm";
        visit::visit_arm(self, arm);
    }

    fn visit_expr_closure(&mut self, closure: &'ast syn::ExprClosure) {
        self.wrapped(&closure.body, "closure");
        visit::visit_expr_closure(self, closure);
    }
}
