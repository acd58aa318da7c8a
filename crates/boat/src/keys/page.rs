//! The key reference of `docs/boat-file.md`, made from the table of keys, so that the page can't
//! tell of a key that the reading doesn't know, nor keep silent about one that it does.

use quantity::Kind;

use super::{Form, Grammar, KeyRow, Names, Naming, ROOT, Sign, TableRow};
use crate::words::{WordList, listed};

/// A choice of more words than this is listed once, below the tables.
const SHORT: usize = 9;

/// The key reference as a section in Markdown: a table of keys for each table of the file, with
/// what each says, what may stand after it, its units and an example.
/// Unit: none. Source: the table of keys.
pub fn key_reference() -> String {
    let mut tables = Vec::new();
    gather(&ROOT, "", &mut tables);
    let mut out = String::from("## Every key\n\n");
    out.push_str(
        "For each table of the file its keys, in the order in which one writes them. Any order is read.\n\
         An instrument in brackets is the one with which the tool takes a value to be read where nothing is said.\n\
         Where no unit is named, none is due. `\"?\"` may stand for every value that is not said to need an answer.\n",
    );
    let mut long: Vec<&'static WordList> = Vec::new();
    for (row, places) in &tables {
        out.push_str(&table(row, places, &mut long));
    }
    if !long.is_empty() {
        out.push_str("\n### Words\n\n| choice | words |\n| --- | --- |\n");
        for list in long {
            let words: Vec<String> = list.printed().map(code).collect();
            out.push_str(&format!("| {} | {} |\n", list.what, words.join(", ")));
        }
    }
    out
}

/// Every table that can be reached, each once in the order of the file, with where it stands.
fn gather(row: &'static TableRow, place: &str, tables: &mut Vec<(&'static TableRow, Vec<String>)>) {
    if let Some((_, places)) = tables
        .iter_mut()
        .find(|(known, _)| std::ptr::eq(*known, row))
    {
        places.push(place.to_owned());
        return;
    }
    tables.push((row, vec![place.to_owned()]));
    for key in row.keys {
        let place = if row.name == ROOT.name {
            format!("`{}`", key.name)
        } else {
            format!("`{}` in *{}*", key.name, row.name)
        };
        inner(&key.form, &place, tables);
    }
    if let Some(free) = &row.free {
        inner(
            &free.form,
            &format!("a name of yours in *{}*", row.name),
            tables,
        );
    }
}

fn inner(form: &Form, place: &str, tables: &mut Vec<(&'static TableRow, Vec<String>)>) {
    match form {
        Form::Table(row) => gather(row, place, tables),
        Form::ThingOrRun(thing, run) => {
            gather(thing, place, tables);
            gather(run, place, tables);
        }
        Form::List(item) => inner(item, place, tables),
        _ => {}
    }
}

fn table(row: &TableRow, places: &[String], long: &mut Vec<&'static WordList>) -> String {
    let mut out = format!("\n### {}\n\n{}\n", capital(row.name), row.doc);
    let places: Vec<&str> = places.iter().map(String::as_str).collect();
    if places != [""] {
        out.push_str(&format!("Stands after {}.\n", listed(places, "or")));
    }
    out.push_str(
        "\n| key | says | what may stand | unit | example |\n| --- | --- | --- | --- | --- |\n",
    );
    for key in row.keys {
        out.push_str(&line(
            &code(key.name),
            key.doc,
            &stands(key, long),
            &unit(&key.form),
            &format!("{} = {}", key.name, key.example),
        ));
    }
    if let Some(free) = &row.free {
        let (name, example) = free.example;
        out.push_str(&line(
            &format!("*{}*: {}", free.what, naming(free.naming)),
            free.doc,
            &form(&free.form, long),
            &unit(&free.form),
            &format!("{name} = {example}"),
        ));
    }
    out
}

fn line(key: &str, says: &str, stands: &str, unit: &str, example: &str) -> String {
    // A bar would end the cell, in code too.
    let cells = [key, says, stands, unit, &code(example)].map(|cell| cell.replace('|', "\\|"));
    format!("| {} |\n", cells.join(" | "))
}

fn code(text: &str) -> String {
    format!("`{text}`")
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    let first: String = chars
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    first + chars.as_str()
}

/// What may stand after a key.
fn stands(key: &KeyRow, long: &mut Vec<&'static WordList>) -> String {
    let mut text = form(&key.form, long);
    if let Some(instrument) = key.instrument {
        text.push_str(&format!(" ({})", instrument.name()));
    }
    if key.may_choose {
        text.push_str(", or `\"choose\"`");
    }
    if key.required {
        text.push_str("; must be there");
    } else if key.must_be_said {
        text.push_str("; needs an answer");
    }
    text
}

fn naming(naming: Naming) -> &'static str {
    match naming {
        Naming::Plain => "a name",
        Naming::Dotted => "a place",
        Naming::Spot => "a place of a tape",
        Naming::Tape => "two places of a tape",
        Naming::Instrument => "its name",
        Naming::Moment => "a moment",
        Naming::Ware => "as one writes it in the file",
        Naming::Hose => "a bore, and a build",
        Naming::Title => "what you call it",
    }
}

fn form(form: &Form, long: &mut Vec<&'static WordList>) -> String {
    let sign = |sign: &Sign| match sign {
        Sign::Over => " over 0",
        Sign::NotUnder => ", 0 or more",
        Sign::Any => "",
    };
    match form {
        Form::Length => "a length over 0".into(),
        Form::LengthOrZero => "a length, 0 or more".into(),
        Form::PlainLength => "a length over 0, without tolerance".into(),
        Form::Height => "a height".into(),
        Form::Quantity(kind, of) => format!("{}{}", kind.with_article(), sign(of)),
        Form::Spread => "a length, or a share".into(),
        Form::PowerAtSpeed => "a power `@` a shaft speed".into(),
        Form::CurrentAtVoltage => "a current `@` a voltage".into(),
        Form::DropAtFlow => "a loss of pressure `@` a flow".into(),
        Form::FlowAtSpeed => "a flow, or one `@` a shaft speed".into(),
        Form::Percent => "a share, 0 to 100 %".into(),
        Form::Number(low, high) => format!("a number, {low} to {high}"),
        Form::Count => "a whole number from 1".into(),
        Form::Whole => "a whole number from 0".into(),
        Form::Bool => "`true` or `false`".into(),
        Form::Text => "a text".into(),
        Form::Words(list) if list.rows.len() > SHORT => {
            if !long.iter().any(|known| known.what == list.what) {
                long.push(list);
            }
            format!("a {}: see *Words*", list.what)
        }
        Form::Words(list) => {
            let words: Vec<String> = list.printed().map(code).collect();
            listed(words.iter().map(String::as_str), "or")
        }
        Form::Grammar(grammar) => format!("*{}*", grammar_name(*grammar)),
        Form::Name(names) => name(*names).into(),
        Form::Point => "a point: `[x, y, z]`, three lengths".into(),
        Form::Triple => "three numbers: `[x, y, z]`".into(),
        Form::Heading => "a *heading*, or three numbers along x, y and z".into(),
        Form::Spotted => "a place of a tape, or a point: `[x, y, z]`".into(),
        Form::File => "the name of a file".into(),
        Form::Version => "the number 1".into(),
        Form::Table(row) => format!("a table: *{}*", row.name),
        Form::ThingOrRun(thing, run) => format!("a table: *{}* or *{}*", thing.name, run.name),
        Form::List(item) => format!("a list, or one alone, of: {}", self::form(item, long)),
    }
}

/// The name by which the page describes a grammar.
fn grammar_name(grammar: Grammar) -> &'static str {
    match grammar {
        Grammar::Way => "way",
        Grammar::Chain => "chain",
        Grammar::Bends => "bends",
        Grammar::Path => "path",
        Grammar::Thread => "thread",
        Grammar::Clip => "clip",
        Grammar::StockClip => "stock clip",
        Grammar::StockHose => "stock hose",
        Grammar::StockPart => "stock part",
        Grammar::Taper => "taper",
        Grammar::Price => "price",
        Grammar::Curve => "curve",
        Grammar::End => "end",
        Grammar::Mark => "mark",
        Grammar::Side => "side",
        Grammar::Aside => "aside",
        Grammar::Along => "along",
    }
}

fn name(names: Names) -> &'static str {
    match names {
        Names::Thing => "the name of a thing",
        Names::Run => "the name of a run",
        Names::Either => "the name of a thing or a run",
        Names::State => "the name of a state",
        Names::Arrangement => "the name of an arrangement",
        Names::Blank => "the place of a spigot, a cap or a tee",
        Names::Valve => "the place of a valve",
    }
}

fn unit(form: &Form) -> String {
    let of = |kind: Kind| kind.usual_units().join(", ");
    match form {
        Form::Length
        | Form::LengthOrZero
        | Form::PlainLength
        | Form::Height
        | Form::Point
        | Form::Spotted => of(Kind::Length),
        Form::Quantity(kind, _) => of(*kind),
        Form::Spread => format!("{}, %", of(Kind::Length)),
        Form::PowerAtSpeed => format!("{} @ {}", of(Kind::Power), of(Kind::RotationalSpeed)),
        Form::CurrentAtVoltage => format!("{} @ {}", of(Kind::Current), of(Kind::Voltage)),
        Form::DropAtFlow => format!(
            "{} @ {}",
            of(Kind::PressureDifference),
            of(Kind::VolumeFlow)
        ),
        Form::FlowAtSpeed => {
            format!("{} @ {}", of(Kind::VolumeFlow), of(Kind::RotationalSpeed))
        }
        Form::Percent => "%".into(),
        Form::Grammar(Grammar::Aside | Grammar::Along) => of(Kind::Length),
        Form::List(item) => unit(item),
        _ => String::new(),
    }
}
