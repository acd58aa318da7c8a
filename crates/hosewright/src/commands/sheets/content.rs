//! What stands on the sheets: every answer that they show, reckoned once.

use ::sheets::doc::{Head, Paper, Sheet};
use ::sheets::draw::around::{self, AroundForm};
use ::sheets::draw::hose::HoseForm;
use ::sheets::draw::strip::{self, Form, StripForm};
use ::sheets::sheet::{self, Strips};
use quantity::System;
use reckon::{Answer, Circuit, Memo, Order, OrderAsk, Set, StripAsk};

use crate::api::RunWithout;
use crate::fault::Fault;
use crate::load::{Judge, Loaded};

/// Seed of all sampling, as other commands have it where none is given.
const SEED: u64 = 1;
/// The card, whose sides carry day and hash themselves.
const CARD: &str = "card";
/// How the name of a hose sheet begins; the mark of its run follows.
const HOSE: &str = "hose-";
/// Width of what stands in the frame of a sheet [px]: 172 mm.
const WIDE: f64 = 172.0 * 96.0 / 25.4;
/// Height of the strip [px]: it has a page to itself.
const STRIP_HIGH: f64 = 212.0 * 96.0 / 25.4;
/// Height of the strip of a way beside the loop [px].
const RAW_HIGH: f64 = 80.0 * 96.0 / 25.4;
/// Height of the loop drawing [px]: half a page.
const AROUND_HIGH: f64 = 110.0 * 96.0 / 25.4;
/// The arrangement as found, beside which the other is drawn.
const BEFORE: &str = "before";

/// All answers about one arrangement.
pub(super) struct Content<'a> {
    loaded: &'a Loaded,
    units: System,
    answer: Answer,
    circuit: Circuit,
    /// The arrangement as found.
    before: Option<Answer>,
    order: Order,
    card: Option<reckon::Card>,
}

impl<'a> Content<'a> {
    /// Reckons them, side by side where they don't wait for one another.
    pub(super) fn of(
        loaded: &'a Loaded,
        arrangement: Option<&str>,
        units: System,
    ) -> Result<Self, Fault> {
        let boat = &loaded.boat;
        let usual = boat
            .arrangements
            .iter()
            .map(|step| step.key.as_str())
            .find(|name| *name == "after");
        let name = arrangement.or(usual);
        let has_before =
            name != Some(BEFORE) && boat.arrangements.iter().any(|step| step.key == BEFORE);
        let ask = OrderAsk {
            arrangement: name,
            seed: SEED,
            risk: None,
        };
        let (answer, order, before) = std::thread::scope(|scope| {
            let before = scope.spawn(|| {
                has_before.then(|| {
                    loaded.judge(Judge {
                        arrangement: Some(BEFORE),
                        set: Set::All,
                        seed: SEED,
                        bay: false,
                    })
                })
            });
            let order =
                scope.spawn(|| reckon::order(&loaded.held.text, boat, ask, &mut Memo::default()));
            let answer = loaded.judge(Judge {
                arrangement: name,
                set: Set::All,
                seed: SEED,
                bay: true,
            });
            (answer, joined(order), joined(before))
        });
        let (answer, before) = (answer?, before.transpose()?);
        Ok(Self {
            loaded,
            units,
            circuit: reckon::circuit(boat, name).unwrap_or_default(),
            card: reckon::card(boat, name, answer.flow.as_deref(), Some(&order)),
            answer,
            before,
            order,
        })
    }

    /// Which arrangement they are about; `None` for the file as it stands.
    pub(super) fn arrangement(&self) -> Option<&str> {
        self.answer.arrangement.as_deref()
    }

    /// Every sheet, in the order of the job.
    pub(super) fn sheets(&self, head: &Head) -> Vec<Sheet> {
        let (boat, units) = (&self.loaded.boat, self.units);
        let name = self.arrangement();
        let craft = reckon::craft();
        let boxes = reckon::boxes(boat, self.loaded.chart.places(), name);
        let next = reckon::next(
            &self.loaded.held.text,
            boat,
            reckon::Ask {
                arrangement: name,
                seed: SEED,
            },
            &mut Memo::default(),
        );
        let mut sheets = vec![
            sheet::survey_blank(&boxes, &next, units),
            sheet::survey_filled(&boxes, units),
            self.circuit_sheet(),
        ];
        sheets.extend(self.hose_sheets(head.paper));
        sheets.extend([
            sheet::joints(&self.order, &self.answer, &craft, units),
            sheet::clips(&self.order.built, &craft, units),
            sheet::torque(&self.order.built, units),
            sheet::order(&self.order, units),
            sheet::fill(
                &self.answer,
                &self.circuit,
                &reckon::points(boat, name),
                units,
            ),
            sheet::gauge(&reckon::combs(), units),
            sheet::tape(units),
            sheet::report(
                &self.answer,
                &reckon::sighted(boat),
                sheet::Working::Left,
                units,
            ),
        ]);
        sheets.extend(self.card_sheet(head));
        sheets
    }

    /// A sheet once its day, hash and paper are known: the card carries the first two within, and the views of a
    /// hose are as high as the paper leaves room for.
    pub(super) fn dated(&self, sheet: Sheet, head: &Head) -> Sheet {
        if sheet.name == CARD {
            return self.card_sheet(head).unwrap_or(sheet);
        }
        if head.paper != Paper::A4 && sheet.name.starts_with(HOSE) {
            let mut all = self.hose_sheets(head.paper).into_iter();
            return all.find(|own| own.name == sheet.name).unwrap_or(sheet);
        }
        sheet
    }

    /// A sheet for each run that was laid, in the order of their marks in the file.
    fn hose_sheets(&self, paper: Paper) -> Vec<Sheet> {
        let Some(route) = self.answer.route.as_deref() else {
            return Vec::new();
        };
        let listing = &self.circuit.listing;
        let rows = || listing.ring.iter().chain(&listing.beside);
        let runs = route.runs.iter().map(|run| {
            let row = rows().find(|row| row.is_run && row.key == run.run);
            let form = HoseForm {
                route,
                run,
                joints: &self.order.built.joints,
                ends: row.map_or("", |row| row.ends.as_str()),
                side: row.map_or("", |row| row.side.word()),
                units: self.units,
            };
            sheet::hose(&form, paper)
        });
        runs.collect()
    }

    /// Runs that have no hose sheet, and why: only where the file tells of a bay.
    pub(super) fn without(&self) -> Vec<RunWithout> {
        let route = self.answer.route.as_deref();
        let missing = route.map_or(&[][..], |route| route.missing.as_slice());
        missing
            .iter()
            .map(|run| RunWithout {
                run: run.run.clone(),
                mark: run.mark.clone(),
                why: run.why.clone(),
                settles: run.settles.how.clone(),
            })
            .collect()
    }

    fn card_sheet(&self, head: &Head) -> Option<Sheet> {
        let card = self.card.as_ref()?;
        Some(sheet::card(card, head, self.units))
    }

    /// The circuit as a strip and as a loop, and the list of it.
    fn circuit_sheet(&self) -> Sheet {
        let (boat, flow) = (&self.loaded.boat, self.answer.flow.as_deref());
        let ask = StripAsk {
            heel: reckon::usual_heel(boat, self.arrangement()),
            ..StripAsk::default()
        };
        let before = self.before.as_ref().and_then(|answer| {
            let ask = StripAsk::default();
            reckon::strip(boat, Some(BEFORE), &ask, answer, answer.flow.as_deref())
        });
        let told = reckon::strip(boat, self.arrangement(), &ask, &self.answer, flow);
        let strips = told.map_or_else(Strips::default, |told| {
            let form = StripForm {
                height: Some(STRIP_HIGH),
                before: before.as_ref(),
                ..StripForm::of(WIDE, Form::Paper, self.units)
            };
            let main = strip::strip(&told, &form);
            let raw = told
                .branches
                .iter()
                .filter(|own| own.carries == "raw water");
            let raw = raw.map(|own| {
                let form = StripForm {
                    height: Some(RAW_HIGH),
                    branch: Some(&own.key),
                    ..StripForm::of(WIDE, Form::Paper, self.units)
                };
                (own.title.clone(), strip::strip(&told, &form).picture)
            });
            let beside = StripForm {
                height: Some(RAW_HIGH),
                ..StripForm::of(WIDE, Form::Paper, self.units)
            };
            Strips {
                raw: raw.collect(),
                side: sheet::sides(&told, &beside),
                ..Strips::from(Some(main))
            }
        });
        let form = AroundForm {
            width: WIDE,
            height: AROUND_HIGH,
            units: self.units,
        };
        let before_flow = self
            .before
            .as_ref()
            .and_then(|before| before.flow.as_deref());
        let around = reckon::around(boat, &self.answer, flow, before_flow, None)
            .map(|told| around::around(&told, &form));
        sheet::circuit(&self.circuit, strips, around, self.units)
    }
}

/// What a thread brought; a defect in it is told by the hook of this thread as it would be by its own.
fn joined<T>(thread: std::thread::ScopedJoinHandle<'_, T>) -> T {
    match thread.join() {
        Ok(done) => done,
        Err(defect) => std::panic::resume_unwind(defect),
    }
}
