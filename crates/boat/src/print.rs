//! A way as its text: what [`crate::read`] reads back to the same pieces.

use quantity::{Length, NominalSize, Unit};

use crate::model::{
    ChainPart, HoseBuild, Metal, Piece, PieceKind, Size, Stuff, Thread, ThreadStandard,
};

/// The text of a way: `hose 38 epdm + reducer 38>32 bronze + hose 32`.
pub fn way_text(pieces: &[Piece]) -> String {
    pieces
        .iter()
        .map(|piece| {
            let kind = piece_text(&piece.kind);
            match piece.long {
                Some(long) => format!("{kind} {} long", millimetres(long)),
                None => kind,
            }
        })
        .collect::<Vec<_>>()
        .join(" + ")
}

fn millimetres(length: Length) -> String {
    quantity::file_value(length, Unit::mm())
}

/// The text of one piece: `hose 38 epdm`.
pub fn piece_text(kind: &PieceKind) -> String {
    let parts = match kind {
        PieceKind::Hose { size, build } => vec![
            "hose".into(),
            size_text(*size),
            build.map_or_else(String::new, |build| build.word().into()),
        ],
        PieceKind::Elbow {
            angle,
            size,
            stuff,
            legs,
            radius,
        } => {
            let legs = legs.map_or_else(String::new, |[one, other]| {
                format!("legs {} x {}", millimetres(one), millimetres(other))
            });
            let radius = radius.map_or_else(String::new, |radius| {
                format!("radius {}", millimetres(radius))
            });
            vec![
                "elbow".into(),
                number(angle.to_degrees()),
                size_text(*size),
                stuff_text(*stuff),
                legs,
                radius,
            ]
        }
        PieceKind::Reducer { from, to, stuff } => {
            vec![
                "reducer".into(),
                format!("{}>{}", size_text(*from), size_text(*to)),
                stuff_text(*stuff),
            ]
        }
        PieceKind::Joiner { size, stuff } => {
            vec!["joiner".into(), size_text(*size), stuff_text(*stuff)]
        }
        PieceKind::Valve {
            size,
            full_bore,
            stuff,
        } => {
            let full = if *full_bore { "full" } else { "" };
            vec![
                "valve".into(),
                size_text(*size),
                full.into(),
                stuff_text(*stuff),
            ]
        }
        PieceKind::Pipe { size, stuff } => {
            vec!["pipe".into(), size_text(*size), stuff_text(*stuff)]
        }
        PieceKind::Tee { sizes, stuff } => {
            let sizes = sizes.map(size_text).join(" x ");
            vec!["tee".into(), sizes, stuff_text(*stuff)]
        }
    };
    parts
        .into_iter()
        .filter(|part: &String| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// A size by name: `38`, `1 1/2 in`, `choose`.
pub fn size_text(size: Size) -> String {
    match size {
        Size::Choose => "choose".into(),
        Size::Named(NominalSize::Metric { micrometres }) => number(f64::from(micrometres) / 1000.0),
        Size::Named(size) => size.to_string(),
    }
}

fn number(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    format!("{rounded}")
}

fn stuff_text(stuff: Stuff) -> String {
    match stuff {
        Stuff::Metal(metal) => Metal::word(metal).into(),
        Stuff::SomeMetal => "metal".into(),
        Stuff::Moulded(build) => format!("moulded {}", HoseBuild::word(build)),
    }
}

/// The text of one part of a screwed stack as one asks for it: `ball valve G1-1/4 F F bronze bore 30`.
/// How far it is screwed in is no part of its name.
pub fn chain_part_text(part: &ChainPart) -> String {
    let mut words = vec![part.kind.word().to_owned()];
    let mut before = None;
    for (thread, sex) in &part.ends {
        if before != Some(thread) {
            if before.is_some() {
                words.push("x".into());
            }
            words.push(thread_text(thread));
        }
        words.push(sex.word().to_owned());
        before = Some(thread);
    }
    if let Some((size, form)) = &part.tail {
        words.push(format!(
            "x {} {}",
            size_text(Size::Named(*size)),
            form.word()
        ));
    }
    if let Some(bore) = part.bore {
        words.push(format!("bore {}", millimetres(bore)));
    }
    if let Some(metal) = part.metal {
        words.push(metal.word().to_owned());
    }
    words.join(" ")
}

/// The text of a thread: `G1-1/4`, `1/2 NPT`, `M18 x 1.5`.
pub fn thread_text(thread: &Thread) -> String {
    let inches = || {
        thread
            .size
            .to_string()
            .trim_end_matches(" in")
            .replace(' ', "-")
    };
    match thread.standard {
        ThreadStandard::G => format!("G{}", inches()),
        ThreadStandard::R => format!("R{}", inches()),
        ThreadStandard::Rc => format!("Rc{}", inches()),
        ThreadStandard::Rp => format!("Rp{}", inches()),
        ThreadStandard::Npt => format!("{} NPT", inches()),
        ThreadStandard::Npsm => format!("{} NPSM", inches()),
        ThreadStandard::Metric => {
            let size = size_text(Size::Named(thread.size));
            match thread.pitch_micrometres {
                Some(pitch) => format!("M{size} x {}", number(f64::from(pitch) / 1000.0)),
                None => format!("M{size}"),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grammar::way;

    #[test]
    fn a_stack_reads_back_to_itself() {
        for text in [
            "stub G1-1/4 male steel + ball valve G1-1/4 female female bore 30 bronze + tail G1-1/4 male x 38 barbed gunmetal",
            "nipple 1/2 NPT male x M18 x 1.5 male brass",
        ] {
            let parts = |text: &str| -> Vec<ChainPart> {
                let read = crate::grammar::chain(text).unwrap();
                read.into_iter().map(|(part, _)| part).collect()
            };
            let read = parts(text);
            let printed: Vec<String> = read.iter().map(chain_part_text).collect();
            assert_eq!(parts(&printed.join(" + ")), read, "{printed:?}");
        }
    }

    #[test]
    fn a_way_reads_back_to_itself() {
        for text in [
            "hose 38 epdm + reducer 38>32 bronze + hose 32 epdm",
            "hose choose + reducer choose>38 metal + hose 38 wired",
            "elbow 45 38 moulded silicone + joiner 38 316 + hose 1 1/2 in",
            "hose 16 400 mm long + valve 16 full bronze + pipe 15 copper 600 mm long + tee 38 x 38 x 16 brass",
            "elbow 90 38 moulded epdm legs 150 mm x 100 mm radius 57 mm + joiner 38 bronze 60 mm long + hose 38",
        ] {
            let pieces = |text: &str| {
                way(text, None)
                    .unwrap()
                    .into_iter()
                    .map(|(piece, _)| piece)
                    .collect::<Vec<_>>()
            };
            let read = pieces(text);
            assert_eq!(pieces(&way_text(&read)), read, "{}", way_text(&read));
        }
    }
}
