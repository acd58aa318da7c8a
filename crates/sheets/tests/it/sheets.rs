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
                flow: None,
                bay: None,
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
        sheet::joints(&self.order, &self.answer, &reckon::craft(), units)
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
            sheet::circuit(&self.circuit(), None::<Picture>, None, units),
            self.joints(units),
            sheet::clips(&self.order.built, &reckon::craft(), units),
            sheet::torque(&self.order.built, units),
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
            for row in &told.order.built.joints {
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
                // What to buy: the hose by name, at its first end with its bore, or with the bore to buy, and
                // the clip that the order list takes for it.
                says_or_waits(&cells[1], Some(&row.hose), &what);
                let buy = words(&spans_of(&cells[1]));
                let bought = cut_of(told, row).is_some_and(|cut| cut.from.is_none());
                if bought && !buy.contains(" from ") {
                    assert!(buy.contains("buy"), "{what}: {buy}");
                    let typed = row.sizes.bore.as_ref();
                    let typed = typed.is_some_and(|bore| buy.contains(bore.text.in_units(units)));
                    assert!(
                        !typed,
                        "{what}: nobody measured what is still to be bought: {buy}"
                    );
                } else if !buy.contains(" from ") {
                    let bore = row.sizes.bore.as_ref();
                    says_or_waits(&cells[1], bore.map(|bore| bore.text.in_units(units)), &what);
                }
                says_or_waits(&cells[1], row.clip.as_deref(), &what);
                let mut lines = told.order.list.lines.iter();
                let line = lines.find(|line| {
                    line.ware == reckon::Ware::Clip && line.wanted_by.contains(&row.joint)
                });
                if let Some(line) = line {
                    assert_eq!(row.clip.as_deref(), Some(line.name.as_str()), "{what}");
                    assert!(buy.contains(&line.name), "{what}: {} in {buy}", line.name);
                }
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

/// The cut of a joint's piece of hose.
fn cut_of<'a>(told: &'a Told, row: &JointRow) -> Option<&'a reckon::Cut> {
    let piece = row.by_hand.piece.as_ref()?;
    told.order.cuts.iter().find(|cut| cut.is_for(piece))
}

#[test]
fn every_piece_of_hose_is_cut_once_on_the_list() {
    for told in told() {
        let sheet = told.joints(System::Metric);
        for cut in &told.order.cuts {
            let rows = told.order.built.joints.iter();
            let ends = rows.filter(|row| {
                let piece = row.by_hand.piece.as_ref();
                piece.is_some_and(|piece| cut.pieces.first() == Some(piece))
            });
            let told_of: Vec<String> = ends
                .map(|row| words(&spans_of(&row_of(&sheet, row)[1])))
                .filter(|buy| buy.contains("cut "))
                .collect();
            let length = quantity::show(
                quantity::Length::of_si(cut.length),
                Some(quantity::Length::mm(2.0)),
                System::Metric,
            );
            assert_eq!(told_of.len(), 1, "{} {:?}", told.name, cut.pieces);
            assert!(
                told_of[0].contains(&length),
                "{}: {length} in {}",
                told.name,
                told_of[0]
            );
        }
    }
}

#[test]
fn what_is_not_sound_stands_below_its_run_with_its_reason() {
    for told in told() {
        let all = said(&told.joints(System::Metric));
        for row in &told.order.built.joints {
            let own = sheet::words::of_joint(row, &told.order.built.verdicts);
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
        for row in &told.order.built.joints {
            let cells = row_of(&sheet, row);
            let guessed = [(&row.sizes.spigot, 0), (&row.sizes.bore, 1)];
            for (shown, cell) in guessed {
                // A bore stands at the first end of its piece, and only where somebody has that hose.
                let bare = cell == 1 && !words(&spans_of(&cells[1])).contains("bore ");
                let bought = cut_of(told, row).is_some_and(|cut| cut.from.is_none());
                if bare || (cell == 1 && bought) {
                    continue;
                }
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
        // A place may be broken at its points, and its station stands in the head.
        let whole = all.replace(' ', "");
        for own in boxes.iter().filter(|own| own.is_empty()) {
            let below = own.place.strip_prefix(&format!("{}.", own.station.place));
            let place = below.unwrap_or(&own.place).replace(' ', "");
            assert!(whole.contains(&place), "{} {}", told.name, own.place);
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
fn what_is_wanted_planned_or_usual_never_looks_measured() {
    let dunlin = told().next().expect("a boat");
    let boxes = dunlin.boxes();
    let of = |place: &str, part: &str| {
        let mut boxes = boxes.iter();
        let own = boxes.find(|own| own.place == place && (part.is_empty() || own.part == part));
        let own = own.unwrap_or_else(|| panic!("{place} is in no box"));
        own.written
            .clone()
            .unwrap_or_else(|| panic!("{place} is empty"))
    };
    let wanted = of("coolant.wanted.percent", "");
    assert_eq!(wanted.standing, reckon::HowWritten::Wanted);
    assert_eq!(wanted.text.metric, "45 %");
    // The tail is bought once she is lifted: nobody has measured it.
    let tail = of(
        "arrangements.after.replace.keel-aft.spigots.tail.behind_bead",
        "",
    );
    assert_eq!(tail.standing, reckon::HowWritten::Planned);
    assert_eq!(tail.text.metric, "22 mm");
    // The file says 8.2, and that its caliper is good for 0.1.
    let usual = of("engine.spigots.vent.od", "");
    assert_eq!(usual.text.metric, "8.2 mm (± 0.10 mm)");
    let stated = of("engine.spigots.out.od", "");
    assert_eq!(stated.text.metric, "38.10 ± 0.10 mm");
    // The hose on the shelf is read with what the answer takes it for: a caliper.
    let hose = boxes
        .iter()
        .find(|own| own.part == "hose 38 epdm" && own.name == "od")
        .and_then(|own| own.written.clone())
        .expect("the hose on the shelf");
    assert_eq!(hose.text.metric, "47.4 mm (± 0.10 mm)");
    assert!(
        matches!(hose.standing, reckon::HowWritten::Read(with) if with.name() == "caliper"),
        "{hose:?}"
    );
    let form = sheet::survey_filled(&boxes, System::Metric);
    let all = said(&form);
    assert!(all.contains("45 % wanted"), "{all}");
    assert!(all.contains("22 mm planned"), "{all}");
    assert!(!all.contains("stands in the file"), "{all}");
    // The values come before what their names mean.
    let heads: Vec<&String> = form
        .blocks
        .iter()
        .filter_map(|block| match block {
            Block::Head(words) => Some(words),
            _ => None,
        })
        .collect();
    assert_eq!(heads.last().map(|head| head.as_str()), Some("The names"));
}

#[test]
fn the_order_begins_with_its_title_and_names_joints_by_their_marks() {
    for told in told() {
        let sheet = sheet::order(&told.order, System::Metric);
        assert_eq!(sheet.blocks[0], Block::Head("Order list".into()));
        let ticks: Vec<String> = sheet
            .blocks
            .iter()
            .filter_map(|block| match block {
                Block::Tick(spans) => Some(words(spans)),
                _ => None,
            })
            .collect();
        let rows = &told.order.built.joints;
        let mut seen = 0;
        for line in &told.order.list.lines {
            let own: Vec<&String> = ticks
                .iter()
                .filter(|tick| tick.contains(&format!("× {}", line.name)))
                .collect();
            for joint in &line.wanted_by {
                let Some(row) = rows.iter().find(|row| row.joint == *joint) else {
                    continue;
                };
                let what = format!("{} {}: {own:?}", told.name, line.name);
                assert!(own.iter().any(|tick| tick.contains(&row.mark)), "{what}");
                assert!(!own.iter().any(|tick| tick.contains(joint)), "{what}");
                seen += 1;
            }
        }
        assert!(seen > 5, "{}: {seen} joints", told.name);
        let all = said(&sheet);
        for done in &told.order.done {
            let of = done.id.rsplit_once('.').map_or("", |(id, _)| id);
            if let Some(row) = rows.iter().find(|row| row.id_prefix == of) {
                let says = format!("{}, on {}: {}.", row.mark, row.spigot_name, done.edit.label);
                assert!(all.contains(&says), "{}: {says}", told.name);
            }
        }
    }
}

#[test]
fn hose_is_cut_in_sixteenths_where_inches_are_wanted() {
    for told in told() {
        let all = said(&sheet::order(&told.order, System::Imperial));
        let mut seen = 0;
        for cut in &told.order.cuts {
            let says = quantity::show_fraction(quantity::Length::of_si(cut.length));
            assert!(all.contains(&says), "{}: {says} in {all}", told.name);
            seen += 1;
        }
        assert!(seen > 0, "{}", told.name);
    }
}

#[test]
fn the_clips_of_all_joints_stand_by_size() {
    for told in told() {
        let sheet = sheet::clips(&told.order.built, &reckon::craft(), System::Metric);
        let by_size = tables(&sheet.blocks)[0];
        for row in &told.order.built.joints {
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
fn the_report_begins_with_what_is_unsound_and_says_each_remedy_once() {
    for told in told() {
        let sheet = told.report(Working::Left, System::Metric);
        let all = said(&sheet);
        let rule = all.find(" Rule ").expect("the head of the rules");
        let of_grade = |grade: Grade| {
            let all = told.answer.verdicts.iter();
            all.filter(move |verdict| verdict.grade == grade)
        };
        for verdict in of_grade(Grade::Unsound) {
            let at = all.find(&verdict.because.metric).expect("its reason");
            assert!(at < rule, "{} {}", told.name, verdict.id);
        }
        // What wants the same done on the same ground is told once.
        let mut grounds: Vec<(reckon::Basis, &str)> = Vec::new();
        for verdict in of_grade(Grade::Marginal) {
            let ground = (verdict.basis, verdict.remedy.metric.as_str());
            if verdict.remedy.metric.starts_with("Soften the end") && !grounds.contains(&ground) {
                grounds.push(ground);
            }
        }
        let softened = spans(&sheet.blocks)
            .into_iter()
            .filter(|span| matches!(span, Span::Bold(words) if words.contains("→ Soften the end")));
        assert_eq!(softened.count(), grounds.len(), "{}", told.name);
    }
}

#[test]
fn only_the_coolants_own_places_are_filled_and_bled() {
    for told in told() {
        let sheet = told.fill(System::Metric);
        let all = said(&sheet);
        // The head stands on the page of its first step.
        let kept = sheet.blocks.iter().any(|block| match block {
            Block::Together(inner) => {
                inner.first() == Some(&Block::Head("In this order".into()))
                    && matches!(inner.last(), Some(Block::Tick(_)))
            }
            _ => false,
        });
        assert!(kept, "{}", told.name);
        let points = reckon::points(&told.boat, told.arrangement());
        let header = points
            .iter()
            .find(|point| point.kind == reckon::PointKind::Header);
        let header = header.and_then(|point| point.height);
        match told.name {
            // Keel pipes and a calorifier with a valve, and no heater.
            "dunlin" => {
                assert_eq!(all.matches("poison").count(), 1, "{all}");
                assert!(!all.contains("heater"), "{all}");
                assert!(all.contains("Open the valves: cal-out.valve."), "{all}");
                assert!(all.contains("keel-aft"), "{all}");
                assert!(header.is_some_and(|z| about(z, 0.660)), "{header:?}");
            }
            // The sea comes in by sea-in; her header is part of the engine.
            "wenna" => {
                assert!(!all.contains("sea-in"), "{all}");
                assert!(header.is_some_and(|z| about(z, 0.540)), "{header:?}");
                assert!(all.contains("+540 mm"), "{all}");
            }
            _ => {}
        }
    }
}

#[test]
fn the_list_of_the_loop_knows_how_deep_the_keel_pipes_lie() {
    let dunlin = told().next().expect("a boat");
    let circuit = dunlin.circuit();
    let mut ring = circuit.listing.ring.iter();
    let keel = ring.find(|row| row.key == "keel").expect("the keel pipes");
    // `depth = 480`, under the still waterline.
    assert!(
        keel.reach
            .is_some_and(|(low, high)| about(low, -0.48) && about(high, -0.48)),
        "{:?}",
        keel.reach
    );
    let sheet = sheet::circuit(&circuit, None::<Picture>, None, System::Metric);
    assert!(said(&sheet).contains("−480 mm"));
}

#[test]
fn raw_water_has_a_strip_of_its_own() {
    let dunlin = told().next().expect("a boat");
    let picture = Picture {
        width: 10.0,
        height: 10.0,
        ..Picture::default()
    };
    let strips = sheet::Strips {
        main: Some(picture.clone()),
        raw: vec![("M strainer".to_owned(), picture)],
        ..sheet::Strips::default()
    };
    let sheet = sheet::circuit(&dunlin.circuit(), strips, None, System::Metric);
    assert_eq!(pictures(&sheet.blocks).len(), 2);
    assert!(said(&sheet).contains("Raw water, laid out straight: M strainer"));
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
    // 55° and 60° are alike on paper: one comb for a pitch.
    assert_eq!(comb.angles.len(), 2, "{:?}", comb.angles);
    for pair in combs.windows(2) {
        assert!(pair[0].pitch - pair[1].pitch > 1e-6, "{pair:?}");
    }
    // Nothing else on the sheet has as many corners.
    let profiles: Vec<Vec<(f64, f64)>> = drawn
        .iter()
        .flat_map(|own| &own.placed)
        .filter_map(|placed| match &placed.shape {
            Shape::Path(steps) if steps.len() > 20 => Some(steps),
            _ => None,
        })
        .map(|steps| {
            let corner = |step: &Step| match step {
                Step::To(x, y) | Step::Line(x, y) => Some((x / PX_IN_MM, y / PX_IN_MM)),
                _ => None,
            };
            steps.iter().filter_map(corner).collect()
        })
        .collect();
    assert_eq!(profiles.len(), combs.len());
    for (comb, profile) in combs.iter().zip(&profiles) {
        let top = profile
            .iter()
            .map(|(_, y)| *y)
            .fold(f64::INFINITY, f64::min);
        let crests: Vec<f64> = profile
            .iter()
            .filter(|(_, y)| about(*y, top))
            .map(|(x, _)| *x)
            .collect();
        // Each crest has two corners, so that every second is one pitch further.
        for pair in crests.windows(3) {
            assert!(about(pair[2] - pair[0], comb.pitch * 1000.0), "{pair:?}");
        }
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
    // A female G 1/2 has a hole of 18.631 mm over its crests (ISO 228-1, from memory).
    let holes: Vec<f64> = drawn
        .iter()
        .flat_map(|own| &own.placed)
        .filter_map(|placed| match &placed.shape {
            Shape::Circle { r, .. } => Some(2.0 * r / PX_IN_MM),
            _ => None,
        })
        .collect();
    let sizes: usize = combs.iter().map(|comb| comb.sizes.len()).sum();
    assert_eq!(holes.len(), sizes, "a circle for each size");
    assert!(
        holes.iter().any(|hole| (hole - 18.631).abs() < 1e-3),
        "no circle of G 1/2: {holes:?}"
    );
    for paper in [Paper::A4, Paper::Letter] {
        assert_eq!(lay(&sheet, &head("dunlin", paper)).len(), 2, "{paper:?}");
    }
}

#[test]
fn the_bars_that_no_eye_tells_apart_are_joined() {
    let combs = reckon::combs();
    let mut males: Vec<f64> = combs
        .iter()
        .flat_map(|comb| &comb.sizes)
        .map(|size| size.male * 1000.0)
        .collect();
    males.sort_by(f64::total_cmp);
    let near = |pair: Option<(f64, f64)>| pair.is_some_and(|(a, b)| (b - a).abs() < 0.5);
    let joined = (0..males.len()).filter(|at| {
        let before = at.checked_sub(1).map(|before| (males[before], males[*at]));
        let after = males.get(at + 1).map(|after| (males[*at], *after));
        near(before) || near(after)
    });
    // A stroke of the joined is down and as long as its row at most; a bar's ends are finer.
    let sheet = sheet::gauge(&combs, System::Metric);
    let strokes = pictures(&sheet.blocks)
        .into_iter()
        .filter(|own| own.spoken.starts_with("Bars of each diameter"))
        .flat_map(|own| &own.placed)
        .filter(|placed| placed.class == sheets::draw::Class::Middle)
        .filter(|placed| match &placed.shape {
            Shape::Path(steps) => {
                matches!(steps[..], [Step::To(x, _), Step::Line(a, _)] if about(x, a))
            }
            _ => false,
        });
    assert_eq!(strokes.count(), joined.count());
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
    // A strip goes between bead and bracket where 22 mm are straight: it is 12 mm wide.
    let mut edges: Vec<f64> = straight(strips)
        .into_iter()
        .filter(|((x, y), (a, b))| about(*x, *a) && b - y > 150.0)
        .map(|((x, _), _)| x)
        .collect();
    edges.sort_by(f64::total_cmp);
    assert_eq!(edges.len(), 8, "{edges:?}");
    for pair in edges.chunks(2) {
        assert!(about(pair[1] - pair[0], 12.0), "{edges:?}");
    }
}

#[test]
fn the_same_answer_gives_the_same_sheets() {
    let (one, other) = (told().next().unwrap(), &reckoned()[0]);
    assert_eq!(one.sheets(System::Metric), other.sheets(System::Metric));
}
