//! What stands on the sheets of the demo boats: nothing cut off, every joint told whole, and nothing
//! assumed that looks measured.

use std::sync::LazyLock;

use boat::{Boat, Severity};
use quantity::System;
use reckon::{Answer, Ask, Grade, Input, JointRow, Memo, Order, OrderAsk, Set, reckon};
use sheets::doc::{Block, Cell, Head, Paper, Sheet, Span, Table, lay};
use sheets::draw::{Picture, Shape, Step, check};
use sheets::sheet::{self, Working};

const DEMO: [(&str, &str); 3] = [
    ("dunlin", include_str!("../../../../boats/dunlin/boat.toml")),
    (
        "tansley",
        include_str!("../../../../boats/tansley/boat.toml"),
    ),
    ("wenna", include_str!("../../../../boats/wenna/boat.toml")),
];
const UNITS: [System; 2] = [System::Metric, System::Imperial];
const PX_IN_MM: f64 = 96.0 / 25.4;

/// A boat with all that her sheets are made from.
struct Told {
    name: &'static str,
    text: &'static str,
    boat: Boat,
    answer: Answer,
    order: Order,
    next: Vec<reckon::Next>,
}

/// Each demo boat, reckoned once for all tests.
fn told() -> impl Iterator<Item = &'static Told> {
    static ALL: LazyLock<Vec<Told>> = LazyLock::new(reckoned);
    ALL.iter()
}

fn reckoned() -> Vec<Told> {
    DEMO.into_iter()
        .map(|(name, text)| {
            let (boat, _, remarks) = boat::read(text);
            assert!(
                remarks
                    .iter()
                    .all(|own| own.code.severity() != Severity::Stop),
                "{name}"
            );
            let mut memo = Memo::default();
            let input = Input {
                boat: &boat,
                arrangement: None,
                seed: 1,
                set: Set::Prompt,
            };
            let answer = reckon(&input, &mut memo);
            let order = reckon::order(text, &boat, OrderAsk::default(), &mut memo);
            let ask = Ask {
                arrangement: answer.arrangement.as_deref(),
                seed: 1,
            };
            let next = reckon::next(text, &boat, ask, &mut memo);
            Told {
                name,
                text,
                boat,
                answer,
                order,
                next,
            }
        })
        .collect()
}

impl Told {
    fn arrangement(&self) -> Option<&str> {
        self.answer.arrangement.as_deref()
    }

    fn boxes(&self) -> Vec<reckon::SurveyBox> {
        let (_, places, _) = boat::read(self.text);
        reckon::boxes(&self.boat, &places, self.arrangement())
    }

    fn circuit(&self) -> reckon::Circuit {
        reckon::circuit(&self.boat, self.arrangement()).unwrap()
    }

    fn joints(&self, units: System) -> Sheet {
        sheet::joints(&self.answer, &self.order, &reckon::craft(), units)
    }

    fn report(&self, working: Working, units: System) -> Sheet {
        sheet::report(&self.answer, &reckon::sighted(&self.boat), working, units)
    }

    fn fill(&self, units: System) -> Sheet {
        let points = reckon::points(&self.boat, self.arrangement());
        sheet::fill(&self.answer, &self.circuit(), &points, units)
    }

    fn sheets(&self, units: System) -> Vec<Sheet> {
        let (boxes, next) = (self.boxes(), &self.next);
        vec![
            sheet::survey_blank(&boxes, next, units),
            sheet::survey_filled(&boxes, units),
            sheet::circuit(&self.circuit(), None, None, units),
            self.joints(units),
            sheet::clips(&self.answer, &reckon::craft(), units),
            sheet::torque(&self.answer, units),
            sheet::order(&self.order, units),
            self.fill(units),
            sheet::gauge(&reckon::combs(), units),
            sheet::tape(units),
            self.report(Working::Left, units),
            self.report(Working::Shown, units),
        ]
    }
}

fn head(boat: &str, paper: Paper) -> Head {
    Head {
        boat: boat.to_owned(),
        arrangement: "after".to_owned(),
        date: "2027-03-04".to_owned(),
        hash: "0123abcd".to_owned(),
        paper,
    }
}

/// All spans of a sheet, wherever they stand.
fn spans(blocks: &[Block]) -> Vec<Span> {
    blocks
        .iter()
        .flat_map(|block| match block {
            Block::Text(spans) | Block::Tick(spans) => spans.clone(),
            Block::Together(inner) => spans(inner),
            Block::Table(table) => table
                .rows
                .iter()
                .flatten()
                .flatten()
                .flatten()
                .cloned()
                .collect(),
            Block::Head(words) | Block::Caution(words) => vec![Span::Plain(words.clone())],
            Block::Picture(_) | Block::NewPage | Block::Gap(_) => Vec::new(),
        })
        .collect()
}

fn spans_of(cell: &Cell) -> Vec<Span> {
    cell.iter().flatten().cloned().collect()
}

fn words(spans: &[Span]) -> String {
    let all: Vec<String> = spans
        .iter()
        .map(|span| match span {
            Span::Plain(words)
            | Span::Bold(words)
            | Span::Soft(words)
            | Span::Assumed(words)
            | Span::Unknown(words) => words.clone(),
            Span::Grade(grade) => grade.word().to_owned(),
            Span::Empty(_, unit) => format!("[ ] {unit}"),
            Span::Tick => "[ ]".to_owned(),
        })
        .collect();
    all.join(" ")
}

fn said(sheet: &Sheet) -> String {
    words(&spans(&sheet.blocks))
}

fn tables(blocks: &[Block]) -> Vec<&Table> {
    blocks
        .iter()
        .flat_map(|block| match block {
            Block::Table(table) => vec![table],
            Block::Together(inner) => tables(inner),
            _ => Vec::new(),
        })
        .collect()
}

fn pictures(blocks: &[Block]) -> Vec<&Picture> {
    blocks
        .iter()
        .flat_map(|block| match block {
            Block::Picture(picture) => vec![picture],
            Block::Together(inner) => pictures(inner),
            _ => Vec::new(),
        })
        .collect()
}

#[test]
fn nothing_overlaps_and_nothing_is_cut_off() {
    for told in told() {
        for units in UNITS {
            for sheet in told.sheets(units) {
                for paper in [Paper::A4, Paper::Letter] {
                    for (at, page) in lay(&sheet, &head(told.name, paper)).iter().enumerate() {
                        let faults = [
                            check::overlaps(page),
                            check::cut_off(page),
                            check::missing(page),
                        ];
                        let faults = faults.concat();
                        let where_ = format!("{} {} {paper:?} {}", told.name, sheet.name, at + 1);
                        assert!(faults.is_empty(), "{where_}: {faults:#?}");
                    }
                }
            }
        }
    }
}

/// The row of the joint list for a mark.
fn row_of<'a>(sheet: &'a Sheet, row: &JointRow) -> &'a Vec<Cell> {
    let mark = Span::Bold(format!("{} ", row.mark));
    let mut rows = tables(&sheet.blocks)
        .into_iter()
        .flat_map(|table| &table.rows);
    rows.find(|cells| cells[0].first().is_some_and(|line| line.contains(&mark)))
        .unwrap_or_else(|| panic!("{} is not on the list", row.joint))
}

/// Checks that a cell says what is known, and says that it is unmeasured where nothing is.
fn says_or_waits(cell: &Cell, known: Option<&str>, what: &str) {
    let spans = spans_of(cell);
    match known {
        Some(known) => assert!(
            words(&spans).contains(known),
            "{what}: {known} in {spans:?}"
        ),
        None => assert!(
            spans.contains(&Span::Grade(Grade::Unmeasured)),
            "{what}: {spans:?}"
        ),
    }
}

#[test]
fn every_joint_says_what_to_buy_how_far_to_push_how_tight() {
    for told in told() {
        for units in UNITS {
            let sheet = told.joints(units);
            for row in &told.answer.joints {
                let what = format!("{} {}", told.name, row.joint);
                let cells = row_of(&sheet, row);
                assert!(
                    words(&spans_of(&cells[0])).contains(&row.spigot_name),
                    "{what}"
                );
                assert!(
                    spans_of(&cells[0]).contains(&Span::Grade(row.grade)),
                    "{what}"
                );
                // What to buy: the hose by name with its bore, and the clip with how many.
                says_or_waits(&cells[1], Some(&row.hose), &what);
                let bore = row
                    .sizes
                    .bore
                    .as_ref()
                    .map(|bore| bore.text.in_units(units));
                says_or_waits(&cells[1], bore, &what);
                says_or_waits(&cells[1], row.clip.as_deref(), &what);
                // How far to push.
                let push = row.push_on.as_ref().map(|push| push.text.in_units(units));
                let stuck = words(&spans_of(&cells[2])).contains("mend first");
                if push.is_some() || !stuck {
                    says_or_waits(&cells[2], push, &what);
                } else {
                    assert_eq!(row.grade, Grade::Unsound, "{what}");
                }
                // How tight: a torque, or how its kind is closed.
                let tight = row.torque.as_ref().map(|torque| torque.in_units(units));
                let close = row
                    .by_hand
                    .close
                    .as_deref()
                    .filter(|close| !close.starts_with("tighten"));
                says_or_waits(&cells[3], tight.or(close), &what);
                if tight.is_some() {
                    let source = row.by_hand.torque_source.as_deref();
                    let source = source.expect("a torque without its source");
                    assert!(words(&spans_of(&cells[3])).contains("source "), "{what}");
                    assert!(said(&sheet).contains(source), "{what}: {source}");
                }
            }
        }
    }
}

#[test]
fn what_is_not_sound_stands_below_its_run_with_its_reason() {
    for told in told() {
        let all = said(&told.joints(System::Metric));
        for row in &told.answer.joints {
            let own = sheet::words::of_joint(row, &told.answer.verdicts);
            for verdict in own.filter(|verdict| verdict.grade != Grade::Sound) {
                assert!(
                    all.contains(&verdict.because.metric),
                    "{} {}",
                    told.name,
                    verdict.id
                );
            }
        }
    }
}

#[test]
fn a_joint_is_not_taken_for_one_whose_name_begins_alike() {
    for told in told() {
        for row in &told.answer.joints {
            for verdict in sheet::words::of_joint(row, &told.answer.verdicts) {
                let rule = verdict.id.rsplit('.').next().unwrap();
                assert_eq!(verdict.id, format!("{}.{rule}", row.id_prefix));
            }
        }
    }
}

#[test]
fn what_nobody_measured_is_in_a_dashed_box_wherever_it_stands() {
    let mut seen = 0;
    for told in told() {
        let sheet = told.joints(System::Metric);
        for row in &told.answer.joints {
            let cells = row_of(&sheet, row);
            let guessed = [(&row.sizes.spigot, 0), (&row.sizes.bore, 1)];
            for (shown, cell) in guessed {
                if let Some(shown) = shown.as_ref().filter(|shown| shown.guessed) {
                    in_a_box(&spans_of(&cells[cell]), &shown.text.metric);
                    seen += 1;
                }
            }
            if let Some(push) = row
                .push_on
                .as_ref()
                .filter(|_| !row.by_hand.push_on_assumes.is_empty())
            {
                in_a_box(&spans_of(&cells[2]), &push.text.metric);
                seen += 1;
            }
        }
        let boxes = told.boxes();
        let form = spans(&sheet::survey_filled(&boxes, System::Metric).blocks);
        for own in &boxes {
            let Some(written) = &own.written else {
                continue;
            };
            if written.standing == reckon::HowWritten::Guessed {
                in_a_box(&form, &written.text.metric);
                seen += 1;
            }
        }
        let report = spans(&told.report(Working::Shown, System::Metric).blocks);
        for verdict in told
            .answer
            .verdicts
            .iter()
            .filter(|verdict| matches!(verdict.grade, Grade::Unsound | Grade::Marginal))
        {
            for input in &verdict.working.inputs {
                if input.from == "assumed" {
                    let value = &input.value.text.metric;
                    let boxed = |span: &Span| matches!(span, Span::Assumed(words) if words.contains(value.as_str()));
                    assert!(report.iter().any(boxed), "{} {}", told.name, verdict.id);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 10, "only {seen} values that nobody measured");
}

/// Checks that a value stands in a dashed box with its word, and nowhere as if it were measured.
fn in_a_box(spans: &[Span], value: &str) {
    let boxed = spans.iter().any(|span| {
        matches!(span, Span::Assumed(words) if words.contains(value) && (words.ends_with("assumed") || words.ends_with("guessed")))
    });
    assert!(boxed, "{value} is in no dashed box: {spans:?}");
}

#[test]
fn the_blank_form_has_a_box_for_each_empty_one_and_begins_with_what_settles_most() {
    for told in told() {
        let (boxes, next) = (told.boxes(), &told.next);
        let sheet = sheet::survey_blank(&boxes, next, System::Metric);
        let all = said(&sheet);
        for own in boxes.iter().filter(|own| own.is_empty()) {
            assert!(all.contains(&own.place), "{} {}", told.name, own.place);
            assert!(all.contains(&own.says), "{} {}", told.name, own.place);
        }
        let empty = boxes.iter().filter(|own| own.is_empty()).count();
        let pencils = spans(&sheet.blocks);
        let pencils = pencils
            .iter()
            .filter(|span| matches!(span, Span::Empty(..)))
            .count();
        assert!(
            pencils >= empty,
            "{}: {pencils} boxes for {empty}",
            told.name
        );
        let mut last = 0;
        for (at, next) in next.iter().enumerate() {
            let head = format!("{}. {}", at + 1, next.station.title);
            let found = all[last..]
                .find(&head)
                .unwrap_or_else(|| panic!("{}: {head}", told.name));
            last += found;
            for how in &next.how {
                assert!(all.contains(how), "{} {how}", told.name);
            }
        }
    }
}

#[test]
fn the_filled_form_shows_every_value_with_its_instrument() {
    for told in told() {
        let boxes = told.boxes();
        let all = said(&sheet::survey_filled(&boxes, System::Metric));
        let mut read = 0;
        for own in &boxes {
            let Some(written) = &own.written else {
                continue;
            };
            if let reckon::HowWritten::Read(with) = written.standing {
                let text = format!("{} {}", written.text.metric, with.name());
                assert!(all.contains(&text), "{} {}: {text}", told.name, own.place);
                read += 1;
            }
        }
        assert!(read > 30, "{}: {read} values read", told.name);
    }
}

#[test]
fn the_order_ticks_every_line_and_names_what_waits() {
    for told in told() {
        let sheet = sheet::order(&told.order, System::Metric);
        let ticks: Vec<String> = sheet
            .blocks
            .iter()
            .filter_map(|block| match block {
                Block::Tick(spans) => Some(words(spans)),
                _ => None,
            })
            .collect();
        for line in told.order.list.lines.iter().filter(|line| line.buy > 0.0) {
            let own = |tick: &&String| tick.contains(&format!("× {}", line.name));
            assert!(
                ticks.iter().any(|tick| own(&tick)),
                "{} {}",
                told.name,
                line.name
            );
        }
        let all = said(&sheet);
        for waits in &told.order.list.waits {
            assert!(
                all.contains(&waits.what) && all.contains(&waits.settles.how),
                "{}",
                waits.what
            );
        }
        for blocked in &told.order.blocked {
            assert!(all.contains(&blocked.because.metric), "{}", blocked.joint);
        }
    }
}

#[test]
fn the_clips_of_all_joints_stand_by_size() {
    for told in told() {
        let sheet = sheet::clips(&told.answer, &reckon::craft(), System::Metric);
        let by_size = tables(&sheet.blocks)[0];
        for row in &told.answer.joints {
            let Some(clip) = &row.clip else { continue };
            let line = by_size.rows.iter().find(|cells| {
                cells[0]
                    .first()
                    .is_some_and(|line| line.contains(&Span::Bold(clip.clone())))
            });
            let joints = words(&spans_of(&line.unwrap()[2]));
            assert!(
                joints.contains(&row.mark),
                "{} {}: {joints}",
                told.name,
                row.joint
            );
        }
    }
}

#[test]
fn the_report_holds_every_verdict_once_in_its_group() {
    for told in told() {
        let sheet = told.report(Working::Left, System::Metric);
        let all = said(&sheet);
        let heads: Vec<usize> = [
            "Good practice",
            "Physics",
            "Opinions",
            "Not seen",
            "Not measured",
        ]
        .into_iter()
        .map(|head| {
            all.rfind(head)
                .unwrap_or_else(|| panic!("{}: {head}", told.name))
        })
        .collect();
        assert!(heads.is_sorted(), "{}: {heads:?}", told.name);
        for verdict in &told.answer.verdicts {
            assert!(all.contains(&verdict.title), "{} {}", told.name, verdict.id);
            if verdict.grade != Grade::Sound {
                assert!(
                    all.contains(&verdict.because.metric),
                    "{} {}",
                    told.name,
                    verdict.id
                );
            }
            if let Some(caution) = &verdict.caution {
                assert!(all.contains(caution.as_str()), "{caution}");
            }
        }
        for grade in [
            Grade::Unmeasured,
            Grade::Unsound,
            Grade::Marginal,
            Grade::Sound,
        ] {
            let count = told
                .answer
                .verdicts
                .iter()
                .filter(|own| own.grade == grade)
                .count();
            assert!(
                all.contains(&format!("{count}  {}", grade.word())),
                "{} {grade:?}",
                told.name
            );
        }
        for seen in reckon::sighted(&told.boat) {
            for (_, text) in &seen.said {
                assert!(all.contains(text), "{} {text}", told.name);
            }
            assert!(seen.not_seen.is_none_or(|why| all.contains(&why)));
        }
    }
}

#[test]
fn the_sheet_to_fill_by_begins_with_its_cautions_and_knows_her_places() {
    for told in told() {
        let sheet = told.fill(System::Metric);
        let first = sheet
            .blocks
            .iter()
            .take_while(|block| matches!(block, Block::Caution(_)));
        assert_eq!(first.count(), 2, "{}", told.name);
        let all = said(&sheet);
        for point in reckon::points(&told.boat, told.arrangement()) {
            assert!(all.contains(&point.key), "{} {}", told.name, point.key);
        }
        match &told.answer.fill {
            Some(row) => match &row.pour {
                Some(pour) => assert!(all.contains(&format!("= {}", pour.text.metric))),
                None => assert!(all.contains("pour first unmeasured"), "{}", told.name),
            },
            None => assert!(all.contains("says nothing of coolant")),
        }
    }
}

/// The straight lines of a picture [mm].
fn straight(picture: &Picture) -> Vec<((f64, f64), (f64, f64))> {
    let mm = |x: f64, y: f64| (x / PX_IN_MM, y / PX_IN_MM);
    picture
        .placed
        .iter()
        .filter_map(|placed| match &placed.shape {
            Shape::Path(steps) => match steps[..] {
                [Step::To(x, y), Step::Line(a, b)] => Some((mm(x, y), mm(a, b))),
                _ => None,
            },
            _ => None,
        })
        .collect()
}

fn about(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

#[test]
fn gauge_and_tape_carry_a_bar_of_100_mm_both_ways() {
    for sheet in [
        sheet::gauge(&reckon::combs(), System::Metric),
        sheet::tape(System::Imperial),
    ] {
        let lines: Vec<_> = pictures(&sheet.blocks)
            .into_iter()
            .flat_map(straight)
            .collect();
        let across =
            |((x, y), (a, b)): &((f64, f64), (f64, f64))| about(a - x, 100.0) && about(*y, *b);
        let down =
            |((x, y), (a, b)): &((f64, f64), (f64, f64))| about(b - y, 100.0) && about(*x, *a);
        assert!(lines.iter().any(across), "{}", sheet.name);
        assert!(lines.iter().any(down), "{}", sheet.name);
    }
}

#[test]
fn the_combs_have_their_pitch_and_the_bars_their_diameter_at_full_size() {
    let combs = reckon::combs();
    let sheet = sheet::gauge(&combs, System::Metric);
    let drawn = pictures(&sheet.blocks);
    // ISO 228-1: G 1/2 has 14 turns to the inch and is 20.955 mm over its crests (from memory).
    let comb = combs
        .iter()
        .find(|comb| comb.sizes.iter().any(|size| size.name.ends_with(" 1/2")));
    let comb = comb.expect("a comb with a half inch");
    assert!(about(comb.pitch * 1000.0, 25.4 / 14.0));
    let picture = drawn
        .iter()
        .find(|own| own.spoken.contains("14 to the inch, 55°"))
        .unwrap();
    let Shape::Path(steps) = &picture.placed[0].shape else {
        panic!("the comb is a path");
    };
    let roots: Vec<f64> = steps
        .iter()
        .filter_map(|step| match step {
            Step::To(x, y) | Step::Line(x, y) => Some((*x, *y)),
            _ => None,
        })
        .filter(|(_, y)| (*y / PX_IN_MM - 2.0).abs() < 1e-9)
        .map(|(x, _)| x / PX_IN_MM)
        .collect();
    // Each crest has two corners, so that every second is one pitch further.
    for pair in roots.windows(3) {
        assert!(about(pair[2] - pair[0], 25.4 / 14.0), "{pair:?}");
    }
    let bar = drawn.iter().flat_map(|own| straight(own));
    let long: Vec<f64> = bar
        .filter(|((_, y), (_, b))| about(*y, *b))
        .map(|((x, _), (a, _))| a - x)
        .collect();
    assert!(
        long.iter().any(|long| (long - 20.955).abs() < 1e-3),
        "no bar of G 1/2: {long:?}"
    );
}

#[test]
fn the_girth_tape_reads_the_diameter() {
    let sheet = sheet::tape(System::Metric);
    let strips = pictures(&sheet.blocks)[0];
    // Ticks begin at the left edge of the first strip; a millimetre of diameter is π along.
    let mut ticks: Vec<f64> = straight(strips)
        .into_iter()
        .filter(|((x, y), (a, b))| about(*x, 1.0) && about(*y, *b) && *a - x < 7.0)
        .map(|((_, y), _)| y)
        .collect();
    ticks.sort_by(f64::total_cmp);
    assert!(ticks.len() > 100);
    for pair in ticks.windows(3) {
        assert!(about(pair[2] - pair[0], std::f64::consts::PI), "{pair:?}");
    }
}

#[test]
fn the_same_answer_gives_the_same_sheets() {
    let (one, other) = (told().next().unwrap(), &reckoned()[0]);
    assert_eq!(one.sheets(System::Metric), other.sheets(System::Metric));
}
