//! The signs on the loop, the header tank, and the names beside them.

use std::f64::consts::PI;

use reckon::{Grade, PieceForm, SignKind, StripSign};

use super::super::shape::{Anchor, Class, Face, Shape, Step};
use super::Desk;
use super::labels::{Rect, Wanted, around};

/// Half the length of a joint's tick [px].
const TICK: f64 = 7.0;

impl Desk<'_> {
    /// All signs on the loop.
    pub(super) fn signs(&mut self) {
        let way = self.way;
        for station in &way.stations {
            let (x, y) = self.spot(station.at);
            let tick = Shape::line((x, y - TICK), (x, y + TICK));
            self.picture.put_for(&station.key, Class::Middle, tick);
            self.labels.take_around(x, y, TICK);
        }
        if self.main {
            self.pump_ends();
        }
        for sign in &way.signs {
            self.sign(sign);
        }
    }

    /// Half a pump closes each end: the coolant leaves it at the left and comes back to it at the right.
    fn pump_ends(&mut self) {
        // OK because a way has few pieces.
        let n = self.way.pieces.len() as f64;
        let ends = [(self.spot(0.0), 1.0), (self.spot(n), -1.0)];
        for ((x, y), side) in ends {
            let (r, k) = (9.0, 9.0 * 0.5523);
            let steps = vec![
                Step::To(x, y - r),
                Step::Curve(x + side * k, y - r, x + side * r, y - k, x + side * r, y),
                Step::Curve(x + side * r, y + k, x + side * k, y + r, x, y + r),
                Step::Close,
            ];
            self.picture.put(Class::Sheet, Shape::Path(steps.clone()));
            self.picture.put(Class::Thin, Shape::Path(steps));
            let head = if side > 0.0 {
                [(x + 2.0, y - 4.0), (x + 8.0, y), (x + 2.0, y + 4.0)]
            } else {
                [(x - 7.0, y - 4.0), (x - 1.0, y), (x - 7.0, y + 4.0)]
            };
            self.picture.put(Class::Solid, Shape::figure(&head));
            self.labels.take_around(x, y, 10.0);
        }
    }

    fn sign(&mut self, sign: &StripSign) {
        let (x, line) = self.spot(sign.at);
        let y = sign
            .z
            .filter(|_| self.way.measured)
            .map_or(line, |z| self.up.y(z));
        let key = sign.key.as_str();
        let says = sign.says.in_units(self.units).to_owned();
        match sign.kind {
            SignKind::Valve { shut, narrow } => self.valve(key, x, line, shut, narrow),
            SignKind::Hull => {
                let bar = Shape::rectangle(x - 2.5, line - 12.0, 5.0, 24.0);
                self.picture.put_for(key, Class::Solid, bar);
                self.labels.take_around(x, line, 12.0);
            }
            SignKind::Bleed => {
                let riser = Shape::line((x, line), (x, line - 8.0));
                self.picture.put_for(key, Class::Thin, riser);
                self.ring(key, x, line - 12.0);
                self.name(key, "bleed", x, line - 14.0);
            }
            SignKind::Drain => {
                let dropper = Shape::line((x, y), (x, y + 8.0));
                self.picture.put_for(key, Class::Thin, dropper);
                self.ring(key, x, y + 12.0);
                self.name(key, "drain", x, y + 14.0);
            }
            SignKind::High => {
                let hat = [(x - 7.0, y - 7.0), (x, y - 13.0), (x + 7.0, y - 7.0)];
                self.picture
                    .put_for(key, Class::Middle, Shape::through(&hat));
                self.labels.take_around(x, y - 10.0, 7.0);
                self.spot_words(key, &says, sign.grade, x, y - 12.0);
            }
            SignKind::Low => {
                let (top, r) = (y + 8.0, 4.0);
                let k = r * 0.5523;
                let steps = vec![
                    Step::To(x, top),
                    Step::Curve(x + 1.0, top + 4.0, x + r, top + 5.0, x + r, top + 8.0),
                    Step::Curve(x + r, top + 8.0 + k, x + k, top + 12.0, x, top + 12.0),
                    Step::Curve(x - k, top + 12.0, x - r, top + 8.0 + k, x - r, top + 8.0),
                    Step::Curve(x - r, top + 5.0, x - 1.0, top + 4.0, x, top),
                    Step::Close,
                ];
                self.picture.put_for(key, Class::Solid, Shape::Path(steps));
                self.labels.take_around(x, top + 6.0, 7.0);
                self.spot_words(key, &says, sign.grade, x, top + 6.0);
            }
            SignKind::Reducer => {
                let trapezium = [
                    (x - 5.0, line - 6.0),
                    (x + 5.0, line - 3.0),
                    (x + 5.0, line + 3.0),
                    (x - 5.0, line + 6.0),
                ];
                self.filled(key, &Shape::figure(&trapezium));
                self.labels.take_around(x, line, 6.0);
            }
            SignKind::Tee => {
                self.filled(key, &Shape::rectangle(x - 4.0, line - 4.0, 8.0, 8.0));
                self.labels.take_around(x, line, 5.0);
                self.name(key, &says, x, line);
            }
            SignKind::Thermostat => {
                let circle = Shape::Circle { x, y: line, r: 7.5 };
                self.filled(key, &circle);
                self.text(Class::Text, x, line + 4.3, Anchor::Middle, Face::Plain, "T");
                self.labels.take_around(x, line, 8.0);
            }
        }
    }

    /// A form of the sheet with a thin outline.
    fn filled(&mut self, key: &str, shape: &Shape) {
        self.picture.put_for(key, Class::Sheet, shape.clone());
        self.picture.put_for(key, Class::Thin, shape.clone());
    }

    fn ring(&mut self, key: &str, x: f64, y: f64) {
        self.filled(key, &Shape::Circle { x, y, r: 4.0 });
        self.labels.take_around(x, y, 6.0);
    }

    fn valve(&mut self, key: &str, x: f64, y: f64, shut: bool, narrow: bool) {
        for side in [-7.0, 7.0] {
            let half = [(x, y), (x + side, y - 5.0), (x + side, y + 5.0)];
            let half = Shape::figure(&half);
            if shut {
                self.picture.put_for(key, Class::Solid, half);
            } else {
                self.filled(key, &half);
            }
        }
        if narrow {
            self.picture
                .put_for(key, Class::Thin, Shape::line((x, y - 7.0), (x, y + 7.0)));
        }
        self.labels.take_around(x, y, 8.0);
        if shut {
            self.name(key, "shut", x, y);
        }
    }

    fn name(&mut self, key: &str, words: &str, x: f64, y: f64) {
        self.say(2, Class::Text, Some(key), words, around(x, y, 11.0));
    }

    /// The words of a spot, with the shape of its grade where it is not sound.
    fn spot_words(&mut self, key: &str, says: &str, grade: Option<Grade>, x: f64, y: f64) {
        self.labels.want(Wanted {
            rank: 2,
            class: Class::Text,
            key: Some(key.to_owned()),
            text: says.to_owned(),
            shorter: None,
            grade: grade.filter(|grade| *grade != Grade::Sound),
            places: around(x, y, 11.0),
            leads: Vec::new(),
        });
    }

    /// The header tank, open at the top, on its make-up line.
    pub(super) fn header_tank(&mut self) {
        let strip = self.strip;
        let Some(header) = strip.header.as_ref().filter(|_| self.main) else {
            return;
        };
        let Some(joins) = header.joins else { return };
        let (x, line) = self.spot(joins);
        let y = |z: Option<f64>| z.map(|z| self.up.y(z));
        let (cap, level, foot) = (y(header.cap), y(header.level), y(header.foot));
        let half = 14.0;
        let rim = cap.or(level.map(|level| level - 8.0));
        let Some(rim) = rim else { return };
        if let Some(foot) = foot {
            self.picture
                .put_for(&header.key, Class::Thin, Shape::line((x, foot), (x, line)));
            self.labels.take_line(&[(x, foot), (x, line)], 3.0, true);
        }
        let base = foot
            .or(level.map(|level| level + 6.0))
            .unwrap_or(rim + 12.0);
        let inside = Shape::rectangle(x - half, rim, 2.0 * half, base - rim);
        self.picture.put_for(&header.key, Class::Sheet, inside);
        let walls: &[&[(f64, f64)]] = if foot.is_some() {
            &[&[
                (x - half, rim),
                (x - half, base),
                (x + half, base),
                (x + half, rim),
            ]]
        } else {
            // How far down it reaches inside the engine is not in the file.
            &[
                &[(x - half, rim), (x - half, base)],
                &[(x + half, rim), (x + half, base)],
            ]
        };
        for wall in walls {
            self.picture
                .put_for(&header.key, Class::Middle, Shape::through(wall));
        }
        if let Some(level) = level {
            let mark = Shape::line((x - half, level), (x + half, level));
            self.picture.put_for(&header.key, Class::Thin, mark);
        }
        self.labels.take(Rect {
            left: x - half - 2.0,
            top: rim - 2.0,
            right: x + half + 2.0,
            bottom: base + 2.0,
        });
        let level_text = header.texts[1].in_units(self.units);
        let words = if level_text.is_empty() {
            header.title.clone()
        } else {
            format!("{}, cold {level_text}", header.title)
        };
        let middle = level.unwrap_or(0.5 * (rim + base)) + 4.0;
        let mut places = Vec::new();
        for off in [0.0, 14.0, -14.0, 28.0, -28.0] {
            places.push((x - half - 6.0, middle + off, Anchor::End));
            places.push((x + half + 6.0, middle + off, Anchor::Start));
        }
        self.labels.want(Wanted {
            rank: 4,
            class: Class::Text,
            key: Some(header.key.clone()),
            text: words,
            shorter: Some(header.title.clone()),
            grade: None,
            places,
            leads: Vec::new(),
        });
    }

    /// Names of things, worst first, then of what branches off.
    pub(super) fn names(&mut self) {
        let way = self.way;
        let mut things: Vec<usize> = (0..way.pieces.len())
            .filter(|i| matches!(way.pieces[*i].form, PieceForm::Within | PieceForm::Outside))
            .collect();
        things.sort_by_key(|i| std::cmp::Reverse(way.pieces[*i].grade));
        for i in things {
            let piece = &way.pieces[i];
            // The thing at the other end of the strip is the same one again; its name stands once.
            if i > 0 && i + 1 == way.pieces.len() && way.pieces[0].key == piece.key {
                continue;
            }
            let line = self.line_of(i);
            let top = line.iter().map(|(_, y)| *y).fold(f64::INFINITY, f64::min);
            let bottom = line
                .iter()
                .map(|(_, y)| *y)
                .fold(f64::NEG_INFINITY, f64::max);
            // OK because a way has few pieces.
            let x = self.x(i as f64 + 0.5);
            let grade = piece.grade.filter(|grade| *grade != Grade::Sound);
            let mut places = around(x, bottom + 6.0, 10.0);
            places.retain(|(_, y, _)| *y > bottom + 8.0);
            let mut over = around(x, top - 6.0, 10.0);
            over.retain(|(_, y, _)| *y < top);
            places = places
                .into_iter()
                .zip(over)
                .flat_map(|(a, b)| [a, b])
                .collect();
            self.labels.want(Wanted {
                // The worst first.
                rank: u8::from(grade != Some(Grade::Unsound)),
                class: Class::Text,
                key: Some(piece.key.clone()),
                text: piece.key.clone(),
                shorter: None,
                grade,
                places,
                leads: Vec::new(),
            });
        }
        if self.main {
            self.flags();
        }
    }

    /// A flag for each branch that leaves the main circuit.
    fn flags(&mut self) {
        let strip = self.strip;
        for branch in &strip.branches {
            let Some(from) = branch.from else { continue };
            let (x, y) = self.spot(from);
            let words = format!("+ {}", branch.title);
            let mut places = around(x, y, 24.0);
            places.extend(around(x, y, 60.0));
            self.say(5, Class::Soft, Some(&branch.key), &words, places);
        }
    }
}

/// An arrow up or down at a place.
pub(super) fn arrow(x: f64, y: f64, up: bool) -> Vec<Shape> {
    let (tip, tail) = if up {
        (y - 8.0, y + 4.0)
    } else {
        (y + 4.0, y - 8.0)
    };
    let back = if up { 5.0 } else { -5.0 };
    let half = 5.0 * (PI / 6.0).tan();
    vec![
        Shape::line((x, tail), (x, tip + back)),
        Shape::figure(&[(x, tip), (x - half, tip + back), (x + half, tip + back)]),
    ]
}
