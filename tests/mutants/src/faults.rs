//! The small faults that can be put into one file of source, and where.

use quote::ToTokens;
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Attribute, BinOp, Expr, ItemMod, ReturnType, Signature, Type, UnOp};

/// A place in a file, and what could stand there instead.
pub struct Site {
    /// Bytes of the file.
    pub range: Range<usize>,
    pub sort: Sort,
    /// What is put there instead, one fault each.
    pub instead: Vec<String>,
    /// The function it is in.
    pub function: String,
    /// Line of the file, from 1.
    pub line: usize,
    /// What stands there now, in a word.
    pub now: String,
}

/// How a fault is put in.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// An expression is replaced.
    Expression,
    /// A function gives this value at once.
    Value,
    /// The guard of a match arm is always, or never, met.
    Guard,
    /// No fault: a block that begins is told.
    Begun,
    /// No fault: an expression that is reached is told.
    Wrapped,
    /// No fault: an `if` that is passed by is told.
    Else,
}

/// All sites of a file, outer ones before those inside them.
pub fn sites(text: &str) -> Result<Vec<Site>, syn::Error> {
    let file = syn::parse_file(text)?;
    let mut search = Search {
        text,
        sites: Vec::new(),
        functions: Vec::new(),
    };
    search.visit_file(&file);
    let mut sites = search.sites;
    sites.sort_by_key(|site| (site.range.start, std::cmp::Reverse(site.range.end)));
    Ok(sites)
}

/// Modules of their own file that stand in a file for tests only: their names, and their files
/// where told.
pub fn test_modules(text: &str) -> Result<Vec<(String, Option<String>)>, syn::Error> {
    let file = syn::parse_file(text)?;
    let modules = file.items.iter().filter_map(|item| match item {
        syn::Item::Mod(module) if module.content.is_none() && is_test(&module.attrs) => {
            let path = module.attrs.iter().find_map(path_of);
            Some((module.ident.to_string(), path))
        }
        _ => None,
    });
    Ok(modules.collect())
}

fn path_of(attribute: &Attribute) -> Option<String> {
    let pair = attribute.meta.require_name_value().ok()?;
    let Expr::Lit(value) = &pair.value else {
        return None;
    };
    match &value.lit {
        syn::Lit::Str(path) if pair.path.is_ident("path") => Some(path.value()),
        _ => None,
    }
}

pub fn is_test(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let said = attribute.to_token_stream().to_string();
        said == "# [test]" || said.starts_with("# [cfg (test")
    })
}

struct Search<'t> {
    text: &'t str,
    sites: Vec<Site>,
    functions: Vec<String>,
}

impl Search<'_> {
    fn add(&mut self, range: Range<usize>, sort: Sort, instead: Vec<String>, now: &str) {
        let line = 1 + self.text[..range.start].matches('\n').count();
        if !instead.is_empty() {
            self.sites.push(Site {
                range,
                sort,
                instead,
                function: self.functions.join("::"),
                line,
                now: now.to_owned(),
            });
        }
    }

    fn body(&mut self, signature: &Signature, block: &syn::Block) {
        let start = block.brace_token.span.open().byte_range().end;
        let values = match &signature.output {
            ReturnType::Default => vec!["()".to_owned()],
            ReturnType::Type(_, kind) => values(kind),
        };
        let whole = self.text[block.span().byte_range()].trim_matches(['{', '}']);
        let other = values.into_iter().filter(|value| value != whole.trim());
        let other = if whole.trim().is_empty() {
            Vec::new()
        } else {
            other.collect()
        };
        self.add(start..start, Sort::Value, other, "the value");
    }
}

impl<'ast> Visit<'ast> for Search<'_> {
    fn visit_item_mod(&mut self, module: &'ast ItemMod) {
        if !is_test(&module.attrs) {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_item_fn(&mut self, function: &'ast syn::ItemFn) {
        if is_test(&function.attrs) || function.sig.constness.is_some() {
            return;
        }
        self.functions.push(function.sig.ident.to_string());
        self.body(&function.sig, &function.block);
        visit::visit_block(self, &function.block);
        self.functions.pop();
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        if is_test(&item.attrs) {
            return;
        }
        let of = item.self_ty.to_token_stream().to_string();
        self.functions.push(of.replace(' ', ""));
        visit::visit_item_impl(self, item);
        self.functions.pop();
    }

    fn visit_impl_item_fn(&mut self, function: &'ast syn::ImplItemFn) {
        if is_test(&function.attrs) || function.sig.constness.is_some() {
            return;
        }
        self.functions.push(function.sig.ident.to_string());
        self.body(&function.sig, &function.block);
        visit::visit_block(self, &function.block);
        self.functions.pop();
    }

    fn visit_trait_item_fn(&mut self, function: &'ast syn::TraitItemFn) {
        if let Some(block) = &function.default {
            self.functions.push(function.sig.ident.to_string());
            self.body(&function.sig, block);
            visit::visit_block(self, block);
            self.functions.pop();
        }
    }

    // What must be known when the program is built cannot ask which fault is on.
    fn visit_item_const(&mut self, _: &'ast syn::ItemConst) {}
    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_item_static(&mut self, _: &'ast syn::ItemStatic) {}
    fn visit_type(&mut self, _: &'ast Type) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_generic_argument(&mut self, _: &'ast syn::GenericArgument) {}
    fn visit_expr_repeat(&mut self, repeat: &'ast syn::ExprRepeat) {
        self.visit_expr(&repeat.expr);
    }

    fn visit_arm(&mut self, arm: &'ast syn::Arm) {
        if let Some((_, guard)) = &arm.guard
            && !holds_let(guard)
        {
            let either = vec!["true".to_owned(), "false".to_owned()];
            self.add(guard.span().byte_range(), Sort::Guard, either, "the guard");
        }
        visit::visit_arm(self, arm);
    }

    fn visit_expr_binary(&mut self, binary: &'ast syn::ExprBinary) {
        let left = &self.text[binary.left.span().byte_range()];
        let right = &self.text[binary.right.span().byte_range()];
        if !holds_let(&binary.left) && !holds_let(&binary.right) {
            let others = others(&binary.op);
            let instead = others.iter().map(|by| format!("{left} {by} {right}"));
            let instead = instead.collect();
            let now = binary.op.to_token_stream().to_string();
            self.add(binary.span().byte_range(), Sort::Expression, instead, &now);
        }
        visit::visit_expr_binary(self, binary);
    }

    fn visit_expr_unary(&mut self, unary: &'ast syn::ExprUnary) {
        let without = self.text[unary.expr.span().byte_range()].to_owned();
        let now = unary.op.to_token_stream().to_string();
        if matches!(unary.op, UnOp::Not(_) | UnOp::Neg(_)) && !holds_let(&unary.expr) {
            let instead = vec![without];
            self.add(unary.span().byte_range(), Sort::Expression, instead, &now);
        }
        visit::visit_expr_unary(self, unary);
    }
}

/// `a && let Some(b) = c` is no expression that could stand in brackets.
fn holds_let(expression: &Expr) -> bool {
    match expression {
        Expr::Let(_) => true,
        Expr::Binary(binary) => holds_let(&binary.left) || holds_let(&binary.right),
        _ => false,
    }
}

/// What is put in an operator's place.
fn others(operator: &BinOp) -> &'static [&'static str] {
    match operator {
        BinOp::Eq(_) => &["!="],
        BinOp::Ne(_) => &["=="],
        BinOp::And(_) => &["||"],
        BinOp::Or(_) => &["&&"],
        BinOp::Lt(_) => &["==", ">"],
        BinOp::Gt(_) => &["==", "<"],
        BinOp::Le(_) => &[">"],
        BinOp::Ge(_) => &["<"],
        BinOp::Add(_) => &["-", "*"],
        BinOp::Sub(_) => &["+", "/"],
        BinOp::Mul(_) => &["+", "/"],
        BinOp::Div(_) => &["%", "*"],
        BinOp::Rem(_) => &["/", "+"],
        BinOp::AddAssign(_) => &["-=", "*="],
        BinOp::SubAssign(_) => &["+=", "/="],
        BinOp::MulAssign(_) => &["+=", "/="],
        BinOp::DivAssign(_) => &["%=", "*="],
        _ => &[],
    }
}

/// Values that a function of this type could give whatever it is asked.
fn values(kind: &Type) -> Vec<String> {
    match kind {
        Type::Tuple(tuple) if tuple.elems.is_empty() => vec!["()".to_owned()],
        Type::Tuple(tuple) => {
            let mut all = vec![String::new()];
            for part in &tuple.elems {
                let values = values(part);
                let with = |begun: &String| {
                    let each = values.iter().map(move |value| format!("{begun}{value}, "));
                    each.collect::<Vec<_>>()
                };
                all = all.iter().flat_map(with).collect();
            }
            all.iter().map(|inner| format!("({inner})")).collect()
        }
        Type::Array(array) => {
            let length = array.len.to_token_stream();
            let each = values(&array.elem).into_iter();
            each.map(|value| format!("[{value}; {length}]")).collect()
        }
        Type::Reference(reference) if reference.elem.to_token_stream().to_string() == "str" => {
            vec!["\"\"".to_owned(), "\"xyzzy\"".to_owned()]
        }
        Type::Path(path) => path.path.segments.last().map_or(Vec::new(), of_path),
        _ => Vec::new(),
    }
}

fn of_path(segment: &syn::PathSegment) -> Vec<String> {
    let inner = match &segment.arguments {
        syn::PathArguments::AngleBracketed(inner) => match inner.args.first() {
            Some(syn::GenericArgument::Type(kind)) => values(kind),
            _ => Vec::new(),
        },
        _ => Vec::new(),
    };
    let of = |values: &[&str]| values.iter().map(|&value| value.to_owned()).collect();
    let around = |first: Option<&str>, before: &str, after: &str| {
        let first = first.map(str::to_owned).into_iter();
        let each = inner.iter().map(|value| format!("{before}{value}{after}"));
        first.chain(each).collect()
    };
    match segment.ident.to_string().as_str() {
        "bool" => of(&["true", "false"]),
        "f64" | "f32" => of(&["0.0", "1.0", "-1.0"]),
        "usize" | "u8" | "u16" | "u32" | "u64" | "u128" => of(&["0", "1"]),
        "isize" | "i8" | "i16" | "i32" | "i64" | "i128" => of(&["0", "1", "-1"]),
        "String" => of(&["String::new()", "\"xyzzy\".to_owned()"]),
        "Option" => around(Some("None"), "Some(", ")"),
        "Vec" => around(Some("vec![]"), "vec![", "]"),
        "Result" if matches!(segment.arguments, syn::PathArguments::None) => of(&["Ok(())"]),
        "Result" => around(None, "Ok(", ")"),
        _ => Vec::new(),
    }
}
