//! Pages: nothing cut off, nothing over another, nothing lost; every page says what it is.
#![allow(clippy::disallowed_methods)] // The tier of the tests is read from the environment.

use proptest::prelude::*;
use reckon::Grade;
use sheets::doc::{self, Block, Column, Head, Paper, Sheet, Span, Table};
use sheets::draw::check::{self, Extent};
use sheets::draw::number::{self, Origin};
use sheets::draw::{Class, Picture, Placed, Shape, grade, hatch};

use crate::pdf_text;

const MM: f64 = 96.0 / 25.4;

fn head(paper: Paper) -> Head {
    Head {
        boat: "Dunlin".to_owned(),
        arrangement: "after".to_owned(),
        date: "2026-03-01".to_owned(),
        hash: "9c41e7b2".to_owned(),
        paper,
    }
}

fn sheet(blocks: Vec<Block>) -> Sheet {
    Sheet {
        name: "trial".to_owned(),
        title: "Trial sheet".to_owned(),
        blocks,
    }
}

fn plain(words: &str) -> Span {
    Span::Plain(words.to_owned())
}

fn texts(page: &Picture) -> Vec<&str> {
    page.placed
        .iter()
        .filter_map(|placed| match &placed.shape {
            Shape::Text { text, .. } => Some(text.as_str()),
            Shape::Path(_) | Shape::Circle { .. } => None,
        })
        .collect()
}

/// What stands in the frame above the title block.
fn body(page: &Picture) -> Picture {
    // The title block is drawn first, up to the words on the sign ±.
    let from = texts_end(page);
    Picture {
        placed: page.placed[from..].to_vec(),
        ..page.clone()
    }
}

fn texts_end(page: &Picture) -> usize {
    let last = page.placed.iter().position(
        |placed| matches!(&placed.shape, Shape::Text { text, .. } if text.starts_with("± =")),
    );
    last.expect("the words on the sign ±") + 1
}

/// Lays a sheet on both papers and asserts that every page is sound.
fn laid(sheet: &Sheet) -> Vec<Picture> {
    let mut first = Vec::new();
    for paper in [Paper::Letter, Paper::A4] {
        let head = head(paper);
        let pages = doc::lay(sheet, &head);
        let count = pages.len();
        for (n, page) in pages.iter().enumerate() {
            assert_eq!(check::overlaps(page), Vec::<String>::new());
            assert_eq!(check::cut_off(page), Vec::<String>::new());
            let words = texts(page);
            for wanted in ["Dunlin", "9c41e7b2", "after", "2026-03-01", "Trial sheet"] {
                assert!(words.contains(&wanted), "{wanted}: {words:?}");
            }
            assert!(
                words.contains(&format!("{} of {count}", n + 1).as_str()),
                "{words:?}"
            );
            let high = match paper {
                Paper::A4 => 297.0,
                Paper::Letter => 279.4,
            };
            let wide = page.width / MM;
            let left = 20.0 + (wide - 210.0) / 2.0;
            let room = Extent {
                left: left * MM,
                top: 10.0 * MM,
                right: (left + 180.0) * MM,
                bottom: (high - 10.0 - 18.0) * MM,
            };
            assert_eq!(check::out_of(&body(page), room), Vec::<String>::new());
        }
        first = pages;
    }
    first
}

fn long_table(rows: usize) -> Table {
    let column = |head: &str, share: f64, right: bool| Column {
        head: head.to_owned(),
        share,
        right,
    };
    Table {
        columns: vec![
            column("joint", 1.0, false),
            column("push on", 1.0, true),
            column("what to buy", 3.0, false),
        ],
        rows: (0..rows)
            .map(|n| {
                vec![
                    vec![vec![
                        Span::Bold(format!("A{n}")),
                        Span::Grade(Grade::Unsound),
                    ]],
                    vec![vec![plain("34 mm")]],
                    vec![
                        vec![plain(
                            "hose 38 mm bore, wall 5, for hot coolant, of the stiff kind",
                        )],
                        number::spans("4.5 ± 0.5 mm", &Origin::Assumed),
                        number::spans("mm", &Origin::LeftOut),
                    ],
                ]
            })
            .collect(),
    }
}

#[test]
fn a_long_table_says_its_head_on_each_page_and_loses_no_row() {
    let pages = laid(&sheet(vec![Block::Table(long_table(60))]));
    assert!(pages.len() > 3, "{} pages", pages.len());
    for page in &pages {
        let heads = texts(page)
            .iter()
            .filter(|words| **words == "push on")
            .count();
        assert_eq!(heads, 1);
    }
    for n in 0..60 {
        let mark = format!("A{n}");
        let count = pages
            .iter()
            .flat_map(texts)
            .filter(|words| **words == mark)
            .count();
        assert_eq!(count, 1, "{mark}");
    }
}

#[test]
fn a_row_stays_on_one_page_unless_it_is_higher_than_one() {
    let mut table = long_table(3);
    let tall: Vec<Vec<Span>> = (0..120).map(|n| vec![plain(&format!("line{n}"))]).collect();
    table.rows[1][2] = tall;
    let pages = laid(&sheet(vec![Block::Table(table)]));
    for n in 0..120 {
        let words = format!("line{n}");
        assert_eq!(
            pages
                .iter()
                .flat_map(texts)
                .filter(|w| **w == words)
                .count(),
            1,
            "{words}"
        );
    }
    let first = pages
        .iter()
        .position(|page| texts(page).contains(&"A2"))
        .expect("row A2");
    let words = texts(&pages[first]);
    assert!(words.iter().any(|w| w.starts_with("hose 38")), "{words:?}");
}

#[test]
fn a_caution_is_never_parted_from_the_act_under_it() {
    // At each height of what stands above, it lies on the page of the next block.
    for lines in 40..80 {
        let mut blocks = vec![Block::Gap(f64::from(lines) * 3.3)];
        blocks.insert(0, Block::Text(vec![plain("above")]));
        blocks.push(Block::Caution(
            "Hot and under pressure: open the cap when cold.".to_owned(),
        ));
        blocks.push(Block::Tick(vec![plain("Open the cap.")]));
        let pages = laid(&sheet(blocks));
        let with = |wanted: &str| {
            pages
                .iter()
                .position(|page| texts(page).iter().any(|words| words.contains(wanted)))
        };
        assert_eq!(with("Hot and under"), with("Open the cap."), "{lines}");
        assert!(with("Hot and under").is_some());
    }
}

#[test]
fn what_belongs_together_stays_on_one_page() {
    let inner: Vec<Block> = (0..12)
        .map(|n| Block::Text(vec![plain(&format!("step {n}"))]))
        .collect();
    for gap in 0..30 {
        let blocks = vec![
            Block::Text(vec![plain("above")]),
            Block::Gap(f64::from(gap) * 8.0),
            Block::Together(inner.clone()),
        ];
        let pages = laid(&sheet(blocks));
        let holding = pages
            .iter()
            .filter(|page| texts(page).iter().any(|words| words.starts_with("step ")))
            .count();
        assert_eq!(holding, 1, "{gap}");
    }
}

#[test]
fn a_word_wider_than_its_column_breaks_and_is_whole() {
    let long = "Hochtemperaturkühlwasserschlauchschellenschraubendreherverlängerung".repeat(3);
    let table = Table {
        columns: vec![
            Column {
                head: "name".to_owned(),
                share: 1.0,
                right: false,
            },
            Column {
                head: "other".to_owned(),
                share: 4.0,
                right: false,
            },
        ],
        rows: vec![vec![vec![vec![plain(&long)]], vec![vec![plain("short")]]]],
    };
    let pages = laid(&sheet(vec![Block::Table(table)]));
    let parts: String = pages
        .iter()
        .flat_map(texts)
        .filter(|part| part.len() > 2 && long.contains(*part))
        .collect();
    assert_eq!(parts, long);
}

#[test]
fn origins_never_look_alike() {
    let origins = [
        Origin::Measured("caliper".to_owned()),
        Origin::Read("plate".to_owned()),
        Origin::Assumed,
        Origin::Guessed,
        Origin::Computed,
        Origin::Chosen,
        Origin::LeftOut,
        Origin::Unknown,
    ];
    let looks: Vec<Vec<Placed>> = origins
        .iter()
        .map(|origin| number::placed("42 mm", origin, 0.0, 20.0, 12.0).placed)
        .collect();
    for (at, one) in looks.iter().enumerate() {
        assert!(!one.is_empty());
        for (n, other) in looks.iter().enumerate().skip(at + 1) {
            assert_ne!(one, other, "{:?} and {:?}", origins[at], origins[n]);
        }
    }
    let has = |at: usize, class: Class| looks[at].iter().any(|placed| placed.class == class);
    let boxed: Vec<bool> = (0..origins.len())
        .map(|at| has(at, Class::Assumed))
        .collect();
    assert_eq!(boxed, [false, false, true, true, false, false, false, true]);
    // What is set on a page is boxed alike, and the word stands there.
    let spans = number::spans("42 mm", &Origin::Assumed);
    let pages = laid(&sheet(vec![Block::Text(spans)]));
    assert!(texts(&pages[0]).contains(&"(42 mm)") && texts(&pages[0]).contains(&"assumed"));
    assert!(
        pages[0]
            .placed
            .iter()
            .any(|placed| placed.class == Class::Assumed)
    );
    let bare = laid(&sheet(vec![Block::Text(vec![Span::Assumed(
        "(42 mm)".to_owned(),
    )])]));
    assert!(texts(&bare[0]).contains(&"assumed"));
}

#[test]
fn a_number_keeps_its_unit_and_its_tolerance() {
    for wide in 1..60 {
        let lead = "x".repeat(wide);
        let pages = laid(&sheet(vec![Block::Text(vec![plain(&format!(
            "{lead} 41.8 ± 0.2 mm"
        ))])]));
        let words = texts(&pages[0]);
        assert!(
            words.iter().any(|words| words.contains("41.8 ± 0.2 mm")),
            "{words:?}"
        );
    }
}

#[test]
fn grades_differ_in_shape_and_the_worst_is_the_largest() {
    let order = [
        Grade::Sound,
        Grade::Unmeasured,
        Grade::Marginal,
        Grade::Unsound,
    ];
    let widths = order.map(|of| grade::width(of, grade::Place::Mark));
    assert!(widths.is_sorted(), "{widths:?}");
    let shapes = order.map(|of| grade::shape(of, 0.0, 0.0, Some("A1")));
    for (at, shape) in shapes.iter().enumerate() {
        assert_eq!(shape[0].spoken.as_deref(), Some(order[at].word()));
        assert!(
            shape
                .iter()
                .all(|placed| placed.key.as_deref() == Some("A1"))
        );
        let half = widths[at] / 2.0;
        for placed in shape {
            let extent = check::extent(placed).expect("a shape");
            let room = Extent {
                left: -half,
                top: -half,
                right: half,
                bottom: half,
            };
            assert!(extent.within(room, 1e-9), "{extent:?}");
        }
    }
}

#[test]
fn hatch_lies_in_its_area() {
    let area = [(10.0, 10.0), (90.0, 20.0), (60.0, 80.0), (15.0, 60.0)];
    let room = Extent {
        left: 10.0,
        top: 10.0,
        right: 90.0,
        bottom: 80.0,
    };
    let counts = [
        Grade::Sound,
        Grade::Marginal,
        Grade::Unsound,
        Grade::Unmeasured,
    ]
    .map(|of| {
        let placed = grade::hatch(of, &area, None);
        for one in &placed {
            assert!(check::extent(one).expect("a line").within(room, 0.81));
        }
        placed.len()
    });
    assert_eq!(counts[0], 0);
    assert!(counts[1] > 10 && counts[2] > 2 * counts[1], "{counts:?}");
    assert!(counts[3] > 50);
    // A concave area is left open where it is open.
    let notch = [
        (0.0, 0.0),
        (30.0, 0.0),
        (30.0, 30.0),
        (20.0, 30.0),
        (20.0, 10.0),
        (10.0, 10.0),
        (10.0, 30.0),
        (0.0, 30.0),
    ];
    for shape in hatch::lines(&notch, hatch::Slope::Level, 4.0) {
        let Shape::Path(steps) = shape else {
            panic!("a line")
        };
        let mut ends = steps.iter().map(|step| match *step {
            sheets::draw::Step::To(x, y) | sheets::draw::Step::Line(x, y) => (x, y),
            _ => panic!("a straight line"),
        });
        let (from, to) = (
            ends.next().expect("its start"),
            ends.next().expect("its end"),
        );
        assert!(from.1 < 10.0 || to.0 - from.0 < 10.1, "{from:?} {to:?}");
    }
}

#[test]
fn the_checkers_find_what_they_look_for() {
    let mut picture = Picture {
        width: 100.0,
        height: 40.0,
        ..Picture::default()
    };
    let put = |picture: &mut Picture, x: f64, words: &str| {
        picture.put(
            Class::Text,
            Shape::Text {
                x,
                y: 20.0,
                anchor: sheets::draw::Anchor::Start,
                face: sheets::draw::Face::Plain,
                size: 12.0,
                text: words.to_owned(),
            },
        );
    };
    put(&mut picture, 2.0, "A1");
    assert!(check::overlaps(&picture).is_empty() && check::cut_off(&picture).is_empty());
    put(&mut picture, 10.0, "B2");
    assert_eq!(check::overlaps(&picture).len(), 1);
    put(&mut picture, 90.0, "over the edge");
    assert_eq!(check::cut_off(&picture).len(), 1);
    picture.put(Class::Loop, Shape::line((50.0, 5.0), (50.0, 60.0)));
    assert_eq!(check::cut_off(&picture).len(), 2);
    put(&mut picture, 40.0, "鴨");
    assert_eq!(check::missing(&picture).len(), 1);
}

#[test]
fn a_pdf_is_the_same_at_each_run_and_embeds_its_fonts() {
    let words = "Δ of 1⅝ in → 41 mm";
    let blocks = vec![
        Block::Head("Joints".to_owned()),
        Block::Text(vec![plain(words), Span::Bold("bold".to_owned())]),
        Block::Text(number::spans("4.5 mm", &Origin::Assumed)),
        Block::Table(long_table(30)),
    ];
    let sheet = sheet(blocks);
    let head = head(Paper::A4);
    let once = doc::pdf::write(&[(&sheet, &head)]).expect("a PDF");
    let twice = doc::pdf::write(&[(&sheet, &head)]).expect("a PDF");
    assert_eq!(once, twice);
    assert!(once.starts_with(b"%PDF-1."));
    assert!(once.len() < 80_000, "{} bytes", once.len());
    let count = |wanted: &[u8]| {
        once.windows(wanted.len())
            .filter(|part| *part == wanted)
            .count()
    };
    // Four cuts of type, each with its file and with the letters that its signs stand for.
    assert_eq!(count(b"/FontFile2") + count(b"/FontFile3"), 4);
    assert_eq!(count(b"/ToUnicode"), 4);
    assert!(count(b"/CreationDate") == 0 && count(b"/ModDate") == 0);

    // What is read back is what was laid, page by page.
    let laid = doc::lay(&sheet, &head);
    let read = pdf_text::pages(&once);
    assert_eq!(read.len(), laid.len());
    for (n, (page, read)) in laid.iter().zip(&read).enumerate() {
        assert_eq!(read.concat(), texts(page).concat(), "page {}", n + 1);
        let whole = read.concat();
        for wanted in [
            "Dunlin",
            "9c41e7b2",
            &format!("{} of {}", n + 1, laid.len()),
        ] {
            assert!(whole.contains(wanted), "{wanted}: {whole}");
        }
    }
    assert!(read[0].concat().contains(words));
}

#[test]
fn a_page_as_svg_holds_each_text_on_a_line_of_its_own() {
    let blocks = vec![
        Block::Text(vec![plain("less < more & “so” on")]),
        Block::Text(vec![Span::Grade(Grade::Unsound)]),
    ];
    let pages = laid(&sheet(blocks));
    let svg = doc::svg::write(&pages[0]);
    assert_eq!(svg, doc::svg::write(&pages[0]));
    assert!(
        svg.contains("role=\"img\"") && svg.contains("<title>Dunlin, Trial sheet, page 1 of 1")
    );
    assert!(
        svg.contains(">less &lt; more &amp; “so” on</text>"),
        "{svg}"
    );
    let texts = svg
        .lines()
        .filter(|line| line.starts_with("  <text "))
        .count();
    assert_eq!(texts, self::texts(&pages[0]).len());
    assert!(svg.lines().all(|line| line.matches('<').count() <= 2));
    // No colour but black and white.
    for (at, _) in svg.match_indices('#') {
        assert!(svg[at..].starts_with("#000") || svg[at..].starts_with("#fff"));
    }
    let alone = doc::svg::alone(&pages[0]);
    assert_eq!(
        alone.matches("@font-face").count(),
        2,
        "plain and bold are on the page"
    );
}

/// Words out of a few letters, some of them long.
fn words() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        8 => "[a-zA-Z0-9±≤°.,()]{1,9}",
        1 => "[A-Za-z]{30,90}",
        2 => "[0-9]{1,4}\\.[0-9] (mm|bar|L/min|°C)",
    ];
    prop::collection::vec(word, 1..40).prop_map(|words| words.join(" "))
}

fn span() -> impl Strategy<Value = Span> {
    prop_oneof![
        4 => words().prop_map(Span::Plain),
        2 => words().prop_map(Span::Bold),
        2 => words().prop_map(Span::Soft),
        2 => words().prop_map(Span::Assumed),
        1 => (4.0..400.0, "[a-z]{0,5}").prop_map(|(wide, unit)| Span::Empty(wide, unit)),
        1 => Just(Span::Grade(Grade::Marginal)),
        1 => Just(Span::Grade(Grade::Unsound)),
        1 => Just(Span::Tick),
        1 => Just(Span::Unknown("?".to_owned())),
    ]
}

fn block() -> impl Strategy<Value = Block> {
    let spans = || prop::collection::vec(span(), 0..5);
    let leaf = prop_oneof![
        2 => words().prop_map(Block::Head),
        4 => spans().prop_map(Block::Text),
        2 => words().prop_map(Block::Caution),
        2 => spans().prop_map(Block::Tick),
        1 => Just(Block::NewPage),
        1 => (0.0..400.0).prop_map(Block::Gap),
        3 => (prop::collection::vec((0.1..5.0, any::<bool>()), 1..7), 0_usize..9)
            .prop_flat_map(move |(columns, rows)| {
                let cell = prop::collection::vec(prop::collection::vec(span(), 0..3), 0..3);
                let row = prop::collection::vec(cell, columns.len());
                prop::collection::vec(row, rows).prop_map(move |rows| Block::Table(Table {
                    columns: columns
                        .iter()
                        .map(|&(share, right)| Column { head: "head of it".to_owned(), share, right })
                        .collect(),
                    rows,
                }))
            }),
    ];
    leaf.prop_recursive(2, 12, 4, |inner| {
        prop::collection::vec(inner, 0..4).prop_map(Block::Together)
    })
}

fn config() -> ProptestConfig {
    let long = std::env::var("HOSEWRIGHT_TEST_TIER").is_ok_and(|tier| tier == "long");
    ProptestConfig {
        cases: if long { 1_000 } else { 40 },
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn nothing_is_cut_off_or_laid_over_another(blocks in prop::collection::vec(block(), 1..8)) {
        laid(&sheet(blocks));
    }
}
