//! A way as its text: what [`crate::read`] reads back to the same pieces.

use quantity::{Kind, Length, NominalSize, Unit, VolumeFlow};

use crate::model::{
    ChainPart, HoseBuild, Metal, Piece, PieceKind, Size, Stuff, Thread, ThreadStandard,
};

/// The text of a way: `hose 38 epdm + reducer 38>32 bronze + hose 32`.
pub fn way_text(pieces: &[Piece]) -> String {
    pieces
        .iter()
        .map(|piece| {
            let open = piece.open.map_or_else(String::new, |open| {
                format!(" open {} %", number(open.to_percent()))
            });
            let long = piece
                .long
                .map_or_else(String::new, |long| format!(" {} long", millimetres(long)));
            let ribbed = if piece.ribbed { " ribbed" } else { "" };
            format!("{}{ribbed}{open}{long}", piece_text(&piece.kind))
        })
        .collect::<Vec<_>>()
        .join(" + ")
}

fn millimetres(length: Length) -> String {
    quantity::file_value(length, Unit::mm())
}

fn bore_text(bore: Option<Length>) -> String {
    bore.map_or_else(String::new, |bore| format!("bore {}", millimetres(bore)))
}

fn kv_text(kv: Option<VolumeFlow>) -> String {
    // OK because the table of units has this one, and what is bare is read in it.
    let unit = Unit::find(Kind::VolumeFlow, "m³/h");
    let text = |(kv, unit)| format!("kv {}", quantity::file_value::<VolumeFlow>(kv, unit));
    kv.zip(unit).map_or_else(String::new, text)
}

/// The text of one piece: `hose 38 epdm`. How far a valve stands open is no part of its
/// name, nor how a hose looks inside.
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
            bore,
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
                bore_text(*bore),
            ]
        }
        PieceKind::Reducer { from, to, stuff } => {
            vec![
                "reducer".into(),
                format!("{}>{}", size_text(*from), size_text(*to)),
                stuff_text(*stuff),
            ]
        }
        PieceKind::Joiner { size, stuff, bore } => vec![
            "joiner".into(),
            size_text(*size),
            stuff_text(*stuff),
            bore_text(*bore),
        ],
        PieceKind::Valve {
            form,
            size,
            full_bore,
            stuff,
            bore,
            kv,
        } => {
            let full = if *full_bore { "full" } else { "" };
            vec![
                form.word().into(),
                size_text(*size),
                full.into(),
                stuff_text(*stuff),
                bore_text(*bore),
                kv_text(*kv),
            ]
        }
        PieceKind::Pipe { size, stuff, bore } => vec![
            "pipe".into(),
            size_text(*size),
            stuff_text(*stuff),
            bore_text(*bore),
        ],
        PieceKind::Tee { sizes, stuff, bore } => {
            let sizes = sizes.map(size_text).join(" x ");
            vec!["tee".into(), sizes, stuff_text(*stuff), bore_text(*bore)]
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
/// How far it is screwed in, and how far it stands open, is no part of its name.
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
            "hose choose + reducer choose>38 metal + hose 38 wired + hose 32 wired ribbed 300 mm long",
            "elbow 45 38 moulded silicone + joiner 38 316 + hose 1 1/2 in",
            "hose 16 400 mm long + valve 16 full bronze + pipe 15 copper 600 mm long + tee 38 x 38 x 16 brass",
            "check 8 brass bore 3 mm + gate 38 bronze + cone 25 bronze kv 11.5 m³/h open 30 % 70 mm long + valve 1 1/2 in full 316 bore 36 mm kv 60 m³/h",
            "joiner 8 brass bore 2.5 mm + pipe 38 copper bore 35 mm + tee 38 x 38 x 16 metal bore 33 mm + elbow 90 38 bronze legs 60 mm x 60 mm radius 40 mm bore 32 mm",
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
