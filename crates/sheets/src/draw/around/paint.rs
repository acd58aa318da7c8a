//! Lines, boxes, signs and words, from the back to the front.

use reckon::{Around, AroundFitting, AroundPiece, AroundSpot, Grade, Level, ThingKind};

use super::flags::Room;
use super::path::{Line, Stroke};
use super::place::{Plan, Rect, TANK, sign, words};
use super::{AroundForm, EDGE, LINE, SIZE};
use crate::draw::grade::{self, Place as GradePlace};
use crate::draw::{Anchor, Class, Face, Picture, Placed, Shape, text};

/// The number of the waterline among the lines.
pub(super) const WATER: usize = usize::MAX - 1;

/// Paints the whole drawing.
pub(super) fn paint(
    around: &Around,
    form: &AroundForm,
    plan: &Plan,
    lines: &[Line],
    room: &mut Room,
    picture: &mut Picture,
) {
    // The first line of words over the drawing is taken.
    room.take(Rect::new(0.0, 0.0, plan.width, EDGE + LINE));
    let level = [
        (EDGE / 2.0, plan.water),
        (plan.width - EDGE / 2.0, plan.water),
    ];
    let depth = plan.floor - plan.water;
    picture.put(
        Class::Sea,
        Shape::rectangle(level[0].0, plan.water, plan.width - EDGE, depth),
    );
    picture.put(Class::Waterline, Shape::through(&level));
    room.line(WATER, &level);
    for (id, line) in lines.iter().enumerate() {
        draw(line, picture);
        room.line(id, &line.points);
    }
    bridges(lines, picture);
    for (spot, own) in &plan.boxes {
        if let AroundSpot::Thing(thing) = spot {
            let heart = around.heart == Some(*thing);
            boxed(around, plan, *thing, own, heart, room, picture);
        }
    }
    let mut painter = Painter {
        around,
        form,
        plan,
        room,
        picture,
        marked: Vec::new(),
        judged: Vec::new(),
    };
    painter.ties();
    painter.tees();
    for (id, line) in lines.iter().enumerate() {
        painter.signs(id, line);
    }
    for line in lines {
        painter.ticks(line);
    }
    // What matters most finds room first: the figures of the main loop, then what is written on the hoses.
    let order: Vec<usize> = (0..lines.len()).rev().collect();
    for id in &order {
        painter.flag(*id, &lines[*id], true);
    }
    for id in &order {
        painter.mark(*id, &lines[*id]);
    }
    if plan.dress.wide {
        painter.rest(lines);
        painter.grades();
    } else {
        painter.grades();
        painter.rest(lines);
    }
    painter.water();
    for line in lines {
        painter.arrow(line);
    }
    painter.marks();
}

fn classes(stroke: Stroke) -> &'static [Class] {
    match stroke {
        Stroke::Hot => &[Class::Loop],
        Stroke::Cold => &[Class::LoopCold, Class::LoopCore],
        Stroke::Branch | Stroke::MakeUp => &[Class::Middle],
        Stroke::Vent => &[Class::Vent],
        Stroke::Raw => &[Class::Thin],
        Stroke::Dead => &[Class::DeadLeg],
    }
}

fn draw(line: &Line, picture: &mut Picture) {
    for class in classes(line.stroke) {
        picture.put_for(&line.key, *class, Shape::through(&line.points));
    }
    if line.onward.is_some()
        && let [.., a, b] = line.points[..]
    {
        picture.put(Class::Solid, arrow(a, b, 1.0));
    }
}

/// An arrow of a fixed size along a line, its point at a share of the way.
fn arrow(a: (f64, f64), b: (f64, f64), share: f64) -> Shape {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let long = (dx.abs() + dy.abs()).max(1e-9);
    let (ux, uy) = (dx / long, dy / long);
    let (x, y) = (a.0 + dx * share + 5.5 * ux, a.1 + dy * share + 5.5 * uy);
    Shape::figure(&[
        (x, y),
        (x - 11.0 * ux - 4.5 * uy, y - 11.0 * uy + 4.5 * ux),
        (x - 11.0 * ux + 4.5 * uy, y - 11.0 * uy - 4.5 * ux),
    ])
}

/// A bow-tie, level or upright.
pub(super) fn tie(x: f64, y: f64, upright: bool) -> Shape {
    let turn = |a: f64, b: f64| {
        if upright {
            (x + b, y + a)
        } else {
            (x + a, y + b)
        }
    };
    Shape::figure(&[
        turn(-7.0, -5.0),
        turn(7.0, 5.0),
        turn(7.0, -5.0),
        turn(-7.0, 5.0),
    ])
}

/// Where two lines cross, the one drawn later goes over the other with a gap.
fn bridges(lines: &[Line], picture: &mut Picture) {
    for (at, upper) in lines.iter().enumerate() {
        for lower in &lines[..at] {
            for a in upper.points.windows(2) {
                for b in lower.points.windows(2) {
                    let Some((x, y)) = crossing((a[0], a[1]), (b[0], b[1])) else {
                        continue;
                    };
                    picture.put(Class::Sheet, Shape::rectangle(x - 5.0, y - 5.0, 10.0, 10.0));
                    let level = (a[0].1 - a[1].1).abs() < 0.01;
                    let piece = if level {
                        Shape::line((x - 5.0, y), (x + 5.0, y))
                    } else {
                        Shape::line((x, y - 5.0), (x, y + 5.0))
                    };
                    for class in classes(upper.stroke) {
                        picture.put_for(&upper.key, *class, piece.clone());
                    }
                }
            }
        }
    }
}

fn crossing(a: ((f64, f64), (f64, f64)), b: ((f64, f64), (f64, f64))) -> Option<(f64, f64)> {
    let level = |s: ((f64, f64), (f64, f64))| (s.0.1 - s.1.1).abs() < 0.01;
    let (h, v) = match (level(a), level(b)) {
        (true, false) => (a, b),
        (false, true) => (b, a),
        _ => return None,
    };
    let (x, y) = (v.0.0, h.0.1);
    let within =
        |one: f64, low: f64, high: f64| one > low.min(high) + 3.0 && one < low.max(high) - 3.0;
    (within(x, h.0.0, h.1.0) && within(y, v.0.1, v.1.1)).then_some((x, y))
}

fn speak(mut placed: Placed, spoken: &str) -> Placed {
    placed.spoken = Some(spoken.to_owned());
    placed
}

pub(super) fn set(
    picture: &mut Picture,
    key: Option<&str>,
    class: Class,
    face: Face,
    at: (f64, f64),
    anchor: Anchor,
    words: &str,
) {
    let shape = Shape::Text {
        x: at.0,
        y: at.1,
        anchor,
        face,
        size: SIZE,
        text: words.to_owned(),
    };
    picture.placed.push(Placed {
        class,
        key: key.map(str::to_owned),
        spoken: None,
        shape,
    });
}

/// The base line of a line of words whose top is given.
pub(super) fn base(top: f64) -> f64 {
    top + 11.5
}

fn boxed(
    around: &Around,
    plan: &Plan,
    thing: usize,
    own: &Rect,
    heart: bool,
    room: &mut Room,
    picture: &mut Picture,
) {
    let it = &around.things[thing];
    let spoken = &it.spoken.metric;
    let (x, y) = own.centre();
    if it.kind == Some(ThingKind::HullFitting) {
        let (class, under) = match it.valve {
            Some(true) => (Class::Solid, false),
            _ => (Class::Thin, true),
        };
        let shape = if it.valve.is_some() {
            tie(x, y, true)
        } else {
            Shape::rectangle(x - 7.0, y - 2.5, 14.0, 5.0)
        };
        if under {
            picture.put(Class::Sheet, shape.clone());
        }
        picture.placed.push(speak(
            Placed {
                class,
                key: Some(it.key.clone()),
                spoken: None,
                shape,
            },
            spoken,
        ));
        if it.blanked {
            let free = |end: f64| Shape::line((x - 7.0, end), (x + 7.0, end));
            picture.put(Class::Middle, free(own.y - 4.0));
        }
        room.take(Rect::round(x, y, 16.0, 18.0));
        return;
    }
    room.take(Rect::new(
        own.x - 1.0,
        own.y - 1.0,
        own.w + 2.0,
        own.h + 2.0,
    ));
    let frame = Shape::rectangle(own.x, own.y, own.w, own.h);
    picture.put(Class::Sheet, frame.clone());
    let class = match it.level {
        _ if heart => Class::Middle,
        Level::Unmeasured => Class::Assumed,
        _ => Class::Thin,
    };
    picture.placed.push(speak(
        Placed {
            class,
            key: Some(it.key.clone()),
            spoken: None,
            shape: frame,
        },
        spoken,
    ));
    if it.header {
        let tank = Rect::new(own.right() - 66.0, own.y - TANK, 60.0, TANK);
        let shape = Shape::rectangle(tank.x, tank.y, tank.w, tank.h);
        picture.put(Class::Sheet, shape.clone());
        picture.put_for(&it.key, Class::Thin, shape);
        let at = (tank.centre().0, tank.centre().1 + 4.2);
        set(
            picture,
            Some(&it.key),
            Class::Text,
            Face::Plain,
            at,
            Anchor::Middle,
            "header",
        );
        room.take(tank);
    }
    let (name, second) = words(it, plan.dress);
    let lines = if second.is_some() { 2.0 } else { 1.0 };
    let grade = sign(it, plan.dress);
    let sign = grade.map(|grade| grade::width(grade, GradePlace::Mark));
    let wide = text::width(&name, Face::Bold, SIZE) + sign.map_or(0.0, |w| w + 5.0);
    let top = y - lines * LINE / 2.0;
    let mut left = x - wide / 2.0;
    if let (Some(grade), Some(w)) = (grade, sign) {
        let at = (left + w / 2.0, top + LINE / 2.0);
        picture
            .placed
            .extend(grade::shape(grade, at.0, at.1, Some(&it.key)));
        left += w + 5.0;
    }
    set(
        picture,
        Some(&it.key),
        Class::Text,
        Face::Bold,
        (left, base(top)),
        Anchor::Start,
        &name,
    );
    if let Some(second) = second {
        let at = (x, base(top + LINE));
        set(
            picture,
            Some(&it.key),
            Class::Soft,
            Face::Plain,
            at,
            Anchor::Middle,
            &second,
        );
    }
    if heart && let Some(main) = plan.ears.first() {
        let x = own.right() - 15.0;
        if let (true, Some(y)) = (it.thermostat, main.lanes[0]) {
            picture.put_for(&it.key, Class::Thin, Shape::Circle { x, y, r: 9.0 });
            set(
                picture,
                Some(&it.key),
                Class::Text,
                Face::Bold,
                (x, y + 4.3),
                Anchor::Middle,
                "T",
            );
        }
        if let (true, Some(y)) = (it.pump, main.lanes[1]) {
            picture.put_for(&it.key, Class::Thin, Shape::Circle { x, y, r: 9.0 });
            let inward = [(x - 7.5, y), (x + 4.0, y - 6.5), (x + 4.0, y + 6.5)];
            picture.put_for(&it.key, Class::Solid, Shape::figure(&inward));
        }
    }
}

/// The drawing in hand.
pub(super) struct Painter<'a> {
    pub(super) around: &'a Around,
    pub(super) form: &'a AroundForm,
    pub(super) plan: &'a Plan,
    pub(super) room: &'a mut Room,
    pub(super) picture: &'a mut Picture,
    /// What is to be written beside the shape of a grade, once all else stands, and the joint that it names.
    marked: Vec<Marked>,
    /// What has a grade: where, its key and its mark.
    judged: Vec<(Grade, (f64, f64), String, String)>,
}

/// A mark that found no room together with the shape of its grade.
struct Marked {
    /// The shape.
    shape: Rect,
    /// Where the joint is.
    at: (f64, f64),
    key: String,
    mark: String,
}

/// Room between the shape of a grade and its mark.
const GAP: f64 = 3.0;
/// In how wide a ring a mark looks for room that a leader leads to, in steps of 6.
const RINGS: i32 = 14;

/// The longest straight of a line.
pub(super) fn longest(points: &[(f64, f64)]) -> Option<((f64, f64), (f64, f64))> {
    let long = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() + (a.1 - b.1).abs();
    points
        .windows(2)
        .map(|pair| (pair[0], pair[1]))
        .fold(None, |best, (a, b)| match best {
            Some((c, d)) if long(c, d) >= long(a, b) - 0.01 => Some((c, d)),
            _ => Some((a, b)),
        })
}

impl Painter<'_> {
    fn tees(&mut self) {
        for (at, tee) in self.around.tees.iter().enumerate() {
            let Some(own) = self.plan.boxes.get(&AroundSpot::Tee(at)) else {
                continue;
            };
            let (x, y) = own.centre();
            let hot = self.around.hot.contains(&AroundSpot::Tee(at));
            if tee.blanked {
                let end = if hot { y + 15.0 } else { y - 15.0 };
                self.picture
                    .put_for(&tee.key, Class::Loop, Shape::line((x, y), (x, end)));
                let cap = Shape::line((x - 6.0, end), (x + 6.0, end));
                self.picture.put_for(&tee.key, Class::Middle, cap);
                self.room.take(Rect::new(x - 7.0, y.min(end), 14.0, 15.0));
            }
            self.picture.placed.push(speak(
                Placed {
                    class: Class::Solid,
                    key: Some(tee.key.clone()),
                    spoken: None,
                    shape: Shape::rectangle(x - 3.5, y - 3.5, 7.0, 7.0),
                },
                &tee.spoken.metric,
            ));
            self.room.take(Rect::round(x, y, 9.0, 9.0));
        }
    }

    /// Flags that may go without.
    fn rest(&mut self, lines: &[Line]) {
        for (id, line) in lines.iter().enumerate().rev() {
            self.flag(id, line, false);
        }
    }

    /// The shapes of the grades of joints, tees and what sits in the lines: the worst first.
    fn grades(&mut self) {
        for (at, tee) in self.around.tees.iter().enumerate() {
            if let (Some(own), Some(grade)) = (self.plan.boxes.get(&AroundSpot::Tee(at)), tee.grade)
            {
                self.judged
                    .push((grade, own.centre(), tee.key.clone(), tee.marks.join(" ")));
            }
        }
        let mut judged = std::mem::take(&mut self.judged);
        judged.sort_by_key(|one| std::cmp::Reverse(one.0));
        for (grade, at, key, mark) in judged {
            self.graded(grade, at, &key, &mark);
        }
    }

    /// The shape of a grade beside a point, with the mark of its joint where there is room: where there is
    /// little, what is sound bears none.
    fn graded(&mut self, grade: Grade, at: (f64, f64), key: &str, mark: &str) {
        let w = grade::width(grade, GradePlace::Mark);
        let named = !mark.is_empty() && (grade != Grade::Sound || self.plan.dress.wide);
        if named && self.together(grade, at, key, mark) {
            return;
        }
        let away = w / 2.0 + 6.0;
        let near = [1.0, 1.7, 2.6].into_iter().flat_map(|times| {
            let d = away * times;
            [
                (d, -away),
                (-d, -away),
                (d, away),
                (-d, away),
                (0.0, -d),
                (0.0, d),
                (d, 0.0),
                (-d, 0.0),
            ]
        });
        let rects = near.map(|(dx, dy)| Rect::round(at.0 + dx, at.1 + dy, w, w));
        let mut found = self.room.first(rects);
        if found.is_none() && grade != Grade::Sound {
            let over = grade == Grade::Unsound;
            found = self.room.near(w, w, at, if over { 90 } else { 8 });
        }
        let Some(found) = found else { return };
        let (x, y) = found.centre();
        self.picture
            .placed
            .extend(grade::shape(grade, x, y, Some(key)));
        if named {
            self.marked.push(Marked {
                shape: found,
                at,
                key: key.to_owned(),
                mark: mark.to_owned(),
            });
        }
    }

    /// The shape of a grade and the mark beside it, as near to a point as both go; `false` where they don't.
    fn together(&mut self, grade: Grade, at: (f64, f64), key: &str, mark: &str) -> bool {
        let w = grade::width(grade, GradePlace::Mark);
        let wide = w + GAP + text::width(mark, Face::Plain, SIZE);
        let tall = w.max(LINE);
        let (dx, dy) = (wide / 2.0 + 6.0, tall / 2.0 + 6.0);
        let places = [1.0, 1.5].into_iter().flat_map(|times| {
            [
                (dx, -dy * times),
                (-dx, -dy * times),
                (dx, dy * times),
                (-dx, dy * times),
                (0.0, -dy * times),
                (0.0, dy * times),
                (dx * times, 0.0),
                (-dx * times, 0.0),
            ]
        });
        let rects = places.map(|(dx, dy)| Rect::round(at.0 + dx, at.1 + dy, wide, tall));
        let Some(found) = self.room.first(rects) else {
            return false;
        };
        let y = found.centre().1;
        self.picture
            .placed
            .extend(grade::shape(grade, found.x + w / 2.0, y, Some(key)));
        set(
            self.picture,
            Some(key),
            Class::Text,
            Face::Plain,
            (found.x + w + GAP, base(y - LINE / 2.0)),
            Anchor::Start,
            mark,
        );
        true
    }

    /// The marks that still stand without a place: beside the shape, else where a leader goes to the joint.
    fn marks(&mut self) {
        for marked in std::mem::take(&mut self.marked) {
            let Marked {
                shape,
                at: joint,
                key,
                mark,
            } = marked;
            let wide = text::width(&mark, Face::Plain, SIZE);
            let (x, y) = shape.centre();
            let beside = [
                Rect::new(shape.right() + GAP, y - LINE / 2.0, wide, LINE),
                Rect::new(shape.x - GAP - wide, y - LINE / 2.0, wide, LINE),
                Rect::new(x - wide / 2.0, shape.y - LINE - 2.0, wide, LINE),
                Rect::new(x - wide / 2.0, shape.bottom() + 2.0, wide, LINE),
            ];
            let found = self.room.first(beside).or_else(|| {
                let led = self.room.led(wide, LINE, joint, RINGS)?;
                self.room.leader(&led, joint);
                self.leader(&led, joint);
                Some(led)
            });
            if let Some(place) = found {
                let at = (place.x, base(place.y));
                set(
                    self.picture,
                    Some(&key),
                    Class::Text,
                    Face::Plain,
                    at,
                    Anchor::Start,
                    &mark,
                );
            }
        }
    }

    /// What sits in a line.
    fn signs(&mut self, id: usize, line: &Line) {
        let Some((a, b)) = longest(&line.points) else {
            return;
        };
        let pieces = line
            .leg
            .map_or(&[][..], |leg| &self.around.legs[leg].pieces);
        let count = f64::from(u32::try_from(pieces.len()).unwrap_or(u32::MAX));
        let step = 1.0 / (count + 1.0);
        let upright = (a.0 - b.0).abs() < 0.01;
        let mut at = step;
        for piece in pieces {
            // Off the place where another line crosses.
            let spot = |share: f64| (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share);
            let shares = [0.0, 0.2, -0.2, 0.35, -0.35].map(|off| at + off * step);
            let open = |share: &f64| {
                let (x, y) = spot(*share);
                self.room
                    .clear_but(&Rect::round(x, y, 18.0, 18.0), Some(id))
            };
            let (x, y) = spot(shares.into_iter().find(open).unwrap_or(at));
            self.sign(piece, x, y, upright, b.0 > a.0 || b.1 > a.1);
            at += step;
        }
    }

    /// The arrow of a line, where there is room on it.
    fn arrow(&mut self, line: &Line) {
        if !line.flows || line.stroke == Stroke::Vent || line.onward.is_some() {
            return;
        }
        let Some((a, b)) = longest(&line.points) else {
            return;
        };
        if (a.0 - b.0).abs() + (a.1 - b.1).abs() < 30.0 {
            return;
        }
        for share in [0.62, 0.5, 0.4, 0.75, 0.3, 0.85, 0.2] {
            let (x, y) = (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share);
            let rect = Rect::round(x, y, 13.0, 11.0);
            if self.room.free(&rect) {
                self.room.take(rect);
                self.picture
                    .put_for(&line.key, Class::Solid, arrow(a, b, share));
                return;
            }
        }
    }

    fn sign(&mut self, piece: &AroundPiece, x: f64, y: f64, upright: bool, with: bool) {
        let turn = |a: f64, b: f64| {
            if upright {
                (x + b, y + a)
            } else {
                (x + a, y + b)
            }
        };
        let key = Some(piece.key.clone());
        let mut put = |class: Class, shape: Shape, spoken: Option<&str>| {
            self.picture.placed.push(Placed {
                class,
                key: key.clone(),
                spoken: spoken.map(str::to_owned),
                shape,
            });
        };
        let spoken = Some(piece.spoken.metric.as_str());
        let mut taken = Rect::round(x, y, 16.0, 16.0);
        match piece.fitting {
            AroundFitting::Valve { shut, reduced } => {
                let shape = tie(x, y, upright);
                if !shut {
                    put(Class::Sheet, shape.clone(), None);
                }
                put(if shut { Class::Solid } else { Class::Thin }, shape, spoken);
                if reduced {
                    put(
                        Class::Thin,
                        Shape::line(turn(0.0, -7.0), turn(0.0, 7.0)),
                        None,
                    );
                }
            }
            AroundFitting::Check => {
                let s = if with { 1.0 } else { -1.0 };
                let shape = Shape::figure(&[
                    turn(-6.0 * s, -5.0),
                    turn(5.0 * s, 0.0),
                    turn(-6.0 * s, 5.0),
                ]);
                put(Class::Sheet, shape.clone(), None);
                put(Class::Thin, shape, spoken);
                put(
                    Class::Thin,
                    Shape::line(turn(5.0 * s, -5.0), turn(5.0 * s, 5.0)),
                    None,
                );
            }
            AroundFitting::Reducer => {
                let s = if with { 1.0 } else { -1.0 };
                let shape = Shape::figure(&[
                    turn(-5.0 * s, -6.0),
                    turn(5.0 * s, -3.5),
                    turn(5.0 * s, 3.5),
                    turn(-5.0 * s, 6.0),
                ]);
                put(Class::Sheet, shape.clone(), None);
                put(Class::Thin, shape, spoken);
            }
            AroundFitting::Bleed | AroundFitting::Drain => {
                let away = if upright || piece.fitting == AroundFitting::Drain {
                    1.0
                } else {
                    -1.0
                };
                let (cx, cy) = turn(0.0, 10.0 * away);
                put(
                    Class::Thin,
                    Shape::line(turn(0.0, 0.0), turn(0.0, 6.0 * away)),
                    None,
                );
                put(
                    Class::Sheet,
                    Shape::Circle {
                        x: cx,
                        y: cy,
                        r: 4.0,
                    },
                    None,
                );
                put(
                    Class::Thin,
                    Shape::Circle {
                        x: cx,
                        y: cy,
                        r: 4.0,
                    },
                    spoken,
                );
                let (mx, my) = turn(0.0, 7.0 * away);
                taken = Rect::round(mx, my, 14.0, 14.0);
                self.room.take(Rect::round(x, y, 6.0, 6.0));
            }
        }
        self.room.take(taken);
        if let Some(grade) = piece.grade {
            self.judged
                .push((grade, (x, y), piece.key.clone(), piece.marks.join(" ")));
        }
        let named = match piece.fitting {
            AroundFitting::Bleed | AroundFitting::Drain => true,
            AroundFitting::Valve { shut, .. } => shut,
            _ => false,
        };
        if named {
            let wide = text::width(&piece.key, Face::Plain, SIZE);
            let (cx, cy) = taken.centre();
            let beside = [
                Rect::new(taken.right() + 3.0, cy - LINE / 2.0, wide, LINE),
                Rect::new(taken.x - 3.0 - wide, cy - LINE / 2.0, wide, LINE),
                Rect::new(cx - wide / 2.0, taken.y - LINE - 2.0, wide, LINE),
                Rect::new(cx - wide / 2.0, taken.bottom() + 2.0, wide, LINE),
            ];
            if let Some(place) = self.room.first(beside) {
                let at = (place.x, base(place.y));
                let key = Some(piece.key.as_str());
                set(
                    self.picture,
                    key,
                    Class::Soft,
                    Face::Plain,
                    at,
                    Anchor::Start,
                    &piece.key,
                );
            }
        }
    }

    /// The ticks of the joints at both ends.
    fn ticks(&mut self, line: &Line) {
        let Some(leg) = line.leg.map(|leg| &self.around.legs[leg]) else {
            return;
        };
        let count = line.points.len();
        if count < 2 {
            return;
        }
        let ends = [
            (leg.from_joint.as_ref(), line.points[0], line.points[1]),
            (
                leg.to_joint.as_ref(),
                line.points[count - 1],
                line.points[count - 2],
            ),
        ];
        for (end, (joint, at, towards)) in ends.into_iter().enumerate() {
            let Some(joint) = joint else { continue };
            // A line that is cut short has no joint at its open end.
            if line.onward.is_some()
                && (end == 1) == line.onward.as_ref().is_some_and(|to| to.starts_with("to"))
            {
                continue;
            }
            let (dx, dy) = (towards.0 - at.0, towards.1 - at.1);
            let long = (dx.abs() + dy.abs()).max(1e-9);
            let step = 7.0_f64.min(long / 2.0);
            let (x, y) = (at.0 + dx / long * step, at.1 + dy / long * step);
            let half = if matches!(line.stroke, Stroke::Hot | Stroke::Cold | Stroke::Dead) {
                7.0
            } else {
                5.0
            };
            let tick = if dx.abs() > dy.abs() {
                Shape::line((x, y - half), (x, y + half))
            } else {
                Shape::line((x - half, y), (x + half, y))
            };
            self.picture.put_for(&joint.key, Class::Middle, tick);
            self.room.take(if dx.abs() > dy.abs() {
                Rect::round(x, y, 4.0, 2.0 * half)
            } else {
                Rect::round(x, y, 2.0 * half, 4.0)
            });
            if let Some(grade) = joint.grade {
                self.judged
                    .push((grade, (x, y), joint.key.clone(), joint.mark.clone()));
            }
        }
    }
}
