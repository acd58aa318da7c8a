//! The run as it lies: from above, from starboard and from aft at one scale, with what is near it.

use reckon::{LaidBody, LaidRun, Place};

use super::super::check::Extent;
use super::super::shape::{Anchor, Class, Face, Picture};
use super::board::{Board, FEED, P, SIZE, SMALL, Type, high, wrapped};
use super::look::{Bearings, Look, View, apart};
use super::outline::{Window, joined, simple, tube};
use super::room::{Room, around};
use super::seen::{Hiders, Sight, edges, hatch};
use super::told::{Told, middle, told};
use super::{HoseForm, WIDE};

/// The scales of the views: the first at which all three fit is taken.
const SCALES: [f64; 12] = [
    1.0, 2.0, 2.5, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 40.0, 50.0,
];
/// Room about the run [m].
const AROUND: f64 = 0.04;
/// What is further off than this is not drawn [m].
const NEAR: f64 = 0.15;
/// Between two views [mm].
const GAP: f64 = 4.0;
/// Height of a caption over a view [mm].
const CAPTION: f64 = 3.8;
/// The narrowest view from aft, and so the column of the words over it [mm].
const NARROWEST: f64 = 54.0;
/// The lowest view [mm].
const LOWEST: f64 = 24.0;
/// Between the lines of a keep-out's hatch [mm].
const HATCH: f64 = 2.2;
/// Weight of the edges of a hose and of what is near it [mm].
const HEAVY: f64 = 0.7;
const THIN: f64 = 0.25;

/// How high the views are at least, so that all words have room [mm].
#[must_use]
pub fn lies_least(form: &HoseForm<'_>) -> f64 {
    let words = corner_high(&told(form), NARROWEST);
    FEED * SIZE + 2.0 * CAPTION + GAP + words.max(LOWEST) + LOWEST + 6.0
}

/// The three views, so high [mm]. Where the file leaves open which way its x points, words instead.
#[must_use]
pub fn lies(form: &HoseForm<'_>, height: f64) -> Picture {
    let run = form.run;
    let mut board = Board::new(WIDE, format!("{} as it lies, in three views", run.title));
    board.text(
        Type::BOLD,
        None,
        (0.0, FEED * SIZE - 0.3 * SIZE),
        "As it lies",
    );
    let Some(bearings) = Bearings::of(&form.route.axes) else {
        let words = "Which way x points is not told, so there is no from above, from starboard or from aft. Write it in the file.";
        let y = board.lines(Type::PLAIN, (0.0, FEED * SIZE), WIDE, words);
        return board.finish(y);
    };
    let told = told(form);
    let plan = Plan::of(form, &bearings, &told, height);
    let lead = Type::BOLD.width("As it lies") + 3.0;
    let words = format!(
        "1:{}, all three alike; the hose is drawn before all else. Hatched: hot or moving, keep off.",
        plan.scale
    );
    board.lines(
        Type::SOFT,
        (lead, FEED * (SIZE - SMALL)),
        WIDE - lead,
        &words,
    );
    for (view, window) in plan.windows {
        let sight = plan.sight(&bearings, view, window);
        One::new(form, &mut board, sight, view).draw(&told);
    }
    corner(&mut board, &plan, &told, form);
    board.finish(height)
}

/// How high the words of the corner are.
fn corner_high(told: &[Told], wide: f64) -> f64 {
    let words: f64 = told
        .iter()
        .map(|own| high(Type::SMALL, wide - 5.5, &own.words) + 0.8)
        .sum();
    words + 9.0
}

/// Where the three views go.
struct Plan {
    /// Paper to boat: 1 to so many.
    scale: f64,
    windows: [(View, Window); 3],
    /// The middle of the run and of what belongs to it [m].
    middle: Place,
    /// Left free over the view from aft.
    corner: Window,
}

impl Plan {
    fn of(form: &HoseForm<'_>, bearings: &Bearings, told: &[Told], height: f64) -> Plan {
        let (low, most) = bounds(form, bearings);
        let size = |at: usize| {
            let (low, most) = (low.get(at), most.get(at));
            low.zip(most).map_or(0.0, |(low, most)| most - low)
        };
        let (along, aside, up) = (size(0), size(1), size(2));
        let top = FEED * SIZE + 0.8;
        let room = height - top - 2.0 * CAPTION - GAP;
        let words = corner_high(told, NARROWEST);
        let mm = |metres: f64, scale: f64| metres * 1000.0 / scale;
        let fits = |scale: &&f64| {
            let wide = mm(aside, **scale).max(NARROWEST) + GAP + mm(along, **scale);
            let over = mm(aside, **scale).max(words).max(LOWEST);
            wide <= WIDE && over + mm(up, **scale).max(LOWEST) <= room
        };
        let scale = SCALES.iter().find(fits).copied().unwrap_or(100.0);
        let aft = mm(aside, scale).max(NARROWEST);
        let wide = WIDE - GAP - aft;
        // What is left of the height goes to both, so that both show as much about the run.
        let (over, under) = (
            mm(aside, scale).max(words).max(LOWEST),
            mm(up, scale).max(LOWEST),
        );
        let spare = (room - over - under).max(0.0);
        let over = over + spare / 2.0;
        let under = under + spare / 2.0;
        let first = top + CAPTION;
        let second = first + over + GAP + CAPTION;
        let window = |left: f64, top: f64, wide: f64, high: f64| Window {
            left,
            top,
            right: left + wide,
            bottom: top + high,
        };
        let left = aft + GAP;
        Plan {
            scale,
            windows: [
                (View::Above, window(left, first, wide, over)),
                (View::Aft, window(0.0, second, aft, under)),
                (View::Starboard, window(left, second, wide, under)),
            ],
            middle: middle(low, most),
            corner: window(0.0, top, aft, over + CAPTION),
        }
    }

    fn sight(&self, bearings: &Bearings, view: View, window: Window) -> Sight {
        let look = bearings.look(view);
        // The middle is kept bow, port, up.
        let [bow, port, up] = self.middle;
        let middle = match view {
            View::Above => (bow, port),
            View::Starboard => (bow, up),
            View::Aft => (-port, up),
        };
        Sight {
            look,
            window,
            middle,
            scale: 1000.0 / self.scale,
        }
    }
}

/// How far the run and its tightest gap reach, towards the bow, to port and up [m].
fn bounds(form: &HoseForm<'_>, bearings: &Bearings) -> (Place, Place) {
    let look = Look {
        right: bearings.bow,
        up: bearings.port,
        near: [0.0, 0.0, 1.0],
    };
    let mut low = [f64::INFINITY; 3];
    let mut most = [f64::NEG_INFINITY; 3];
    let mut take = |place: Place, half: f64| {
        let along = look.at(place).into_iter();
        for ((low, most), along) in low.iter_mut().zip(&mut most).zip(along) {
            *low = low.min(along - half);
            *most = most.max(along + half);
        }
    };
    for part in &form.run.parts {
        for place in &part.line {
            take(*place, part.radius + AROUND);
        }
    }
    if let Some(gap) = &form.run.gap {
        take(gap.from, 0.01);
        take(gap.to, 0.01);
    }
    if low.iter().any(|low| !low.is_finite()) {
        return ([0.0; 3], [0.0; 3]);
    }
    (low, most)
}

/// The words in the free corner, and a bar of the scale.
fn corner(board: &mut Board, plan: &Plan, told: &[Told], form: &HoseForm<'_>) {
    let Window {
        left, top, right, ..
    } = plan.corner;
    let mut y = top + 0.6;
    for own in told {
        let base = y + FEED * SMALL - 0.3 * SMALL;
        balloon(board, (left + 2.0, base - 0.36 * SMALL), own.letter);
        y = board.lines(Type::SMALL, (left + 5.5, y), right - left - 5.5, &own.words) + 0.8;
    }
    // A length that one can step off with dividers.
    let (long, words) = scale_bar(plan.scale, form.units);
    let y = plan.corner.bottom - 1.6;
    board.line(Class::Middle, (left, y), (left + long, y));
    for x in [left, left + long] {
        board.line(Class::Fine, (x, y - 1.2), (x, y + 1.2));
    }
    board.text(
        Type::SOFT,
        None,
        (left + long + 2.0, y + 0.36 * SMALL),
        &words,
    );
}

/// A round length that is 12 to 45 mm on the paper, and its words.
fn scale_bar(scale: f64, units: quantity::System) -> P2 {
    let choices: &[(f64, &str)] = match units {
        quantity::System::Metric => &[
            (20.0, "20 mm"),
            (50.0, "50 mm"),
            (100.0, "100 mm"),
            (200.0, "200 mm"),
            (500.0, "500 mm"),
            (1000.0, "1 m"),
            (2000.0, "2 m"),
        ],
        quantity::System::Imperial => &[
            (25.4, "1 in"),
            (50.8, "2 in"),
            (101.6, "4 in"),
            (152.4, "6 in"),
            (304.8, "1 ft"),
            (609.6, "2 ft"),
            (1219.2, "4 ft"),
        ],
    };
    let fits = |(long, _): &&(f64, &str)| long / scale >= 12.0;
    let (long, words) = choices
        .iter()
        .find(fits)
        .copied()
        .unwrap_or((2000.0, "2 m"));
    (long / scale, words.to_owned())
}

type P2 = (f64, String);

/// A letter in a ring.
fn balloon(board: &mut Board, (x, y): P, letter: char) {
    board.circle(Class::Sheet, None, (x, y), 2.0);
    board.circle(Class::Thin, None, (x, y), 2.0);
    board.text(
        Type {
            face: Face::Bold,
            ..Type::SMALL.at(Anchor::Middle)
        },
        None,
        (x, y + 0.3 * SMALL),
        &letter.to_string(),
    );
}

/// One view that is being drawn.
struct One<'a, 'b> {
    form: &'a HoseForm<'a>,
    board: &'b mut Board,
    sight: Sight,
    view: View,
    room: Room,
}

impl<'a, 'b> One<'a, 'b> {
    fn new(form: &'a HoseForm<'a>, board: &'b mut Board, sight: Sight, view: View) -> Self {
        let room = Room::within(sight.window);
        One {
            form,
            board,
            sight,
            view,
            room,
        }
    }

    fn draw(mut self, told: &[Told]) {
        let window = self.sight.window;
        let caption = (window.left, window.top - 1.2);
        self.board
            .text(Type::SOFT, None, caption, self.view.words());
        let bodies = self.bodies();
        let hiders = Hiders::of(&bodies, &self.sight);
        self.waterline();
        for body in &bodies {
            self.body(body, &hiders);
        }
        self.neighbours(&hiders);
        self.run();
        self.clips();
        self.gap();
        self.bend();
        self.balloons(told);
        self.names(&bodies, &hiders);
        let corners = [
            (window.left, window.top),
            (window.right, window.top),
            (window.right, window.bottom),
            (window.left, window.bottom),
        ];
        self.board
            .closed(Class::Thin, Some(self.view.key()), &[corners.to_vec()]);
    }

    /// The bodies near the run.
    fn bodies(&self) -> Vec<&'a LaidBody> {
        let run = self.form.run;
        let bodies = self.form.route.bodies.iter();
        let near = |body: &&LaidBody| {
            let with = run.gap.as_ref();
            with.is_some_and(|gap| gap.with == body.title || gap.with == body.name)
                || is_near(body, run)
        };
        bodies.filter(near).collect()
    }

    fn body(&mut self, body: &LaidBody, hiders: &Hiders) {
        let window = self.sight.window;
        if body.nature == "hot" || body.nature == "moving" {
            let lines = hatch(body, &self.sight, hiders, HATCH);
            self.board.open(Class::Fine, Some(&body.name), &lines);
        }
        let lines: Vec<Vec<P>> = edges(body, &self.sight)
            .into_iter()
            .flat_map(|(a, b)| hiders.lines(a, b, &window))
            .collect();
        self.board
            .open(Class::Thin, Some(&body.name), &joined(lines));
    }

    /// Other runs that come near, where nothing hides them.
    fn neighbours(&mut self, hiders: &Hiders) {
        let form = self.form;
        let others = form.route.runs.iter().filter(|run| run.run != form.run.run);
        for other in others {
            for part in &other.parts {
                let near = part.line.iter().any(|place| {
                    let all = form.run.parts.iter().flat_map(|own| &own.line);
                    let least = all
                        .map(|own| apart(*own, *place))
                        .fold(f64::INFINITY, f64::min);
                    least < NEAR + part.radius
                });
                if !near {
                    continue;
                }
                let half = part.radius * self.sight.scale;
                let wider = self.sight.window.grown(half);
                for line in self.stretches(&part.line, hiders, &wider) {
                    self.tube(&line, half, THIN, Some(&other.run));
                }
                let Some(at) = part.line.get(part.line.len() / 2) else {
                    continue;
                };
                let at = self.sight.at(*at);
                let high = FEED * SMALL;
                let wide = Type::SMALL.width(&other.mark);
                if self.sight.window.grown(-2.0).holds(at)
                    && self.room.is_free(around(at, (wide, high)))
                {
                    let base = (at.0 - wide / 2.0, at.1 + 0.36 * SMALL);
                    self.board
                        .patch(Type::SMALL, Some(&other.run), base, &other.mark);
                    self.room.take(around(at, (wide, high)));
                }
            }
        }
    }

    /// The seen stretches of a line in space, on the paper.
    fn stretches(&self, line: &[Place], hiders: &Hiders, window: &Window) -> Vec<Vec<P>> {
        let mut all: Vec<Vec<P>> = Vec::new();
        for pair in line.windows(2) {
            let [a, b] = pair else { continue };
            let (a, b) = (self.sight.spot(*a), self.sight.spot(*b));
            all.extend(hiders.lines(a, b, window));
        }
        joined(all)
            .into_iter()
            .map(|line| simple(&line, 0.05))
            .collect()
    }

    /// A hose: its edges in ink, its inside in the colour of the sheet.
    fn tube(&mut self, line: &[P], half: f64, weight: f64, key: Option<&str>) {
        let window = self.sight.window;
        let cut = |half: f64| -> Vec<Vec<P>> {
            let figures = tube(line, half).into_iter();
            figures
                .map(|figure| window.clipped(&figure))
                .filter(|figure| figure.len() > 2)
                .collect()
        };
        self.board
            .closed(Class::Solid, key, &cut(half + weight / 2.0));
        self.board
            .closed(Class::Sheet, None, &cut((half - weight / 2.0).max(0.05)));
        self.room.take_tube(line.to_vec(), half);
    }

    /// The run itself, before all else: hoses heavy with their lay line, the rest thin.
    fn run(&mut self) {
        let form = self.form;
        // Those that do not bend first, so that a hose goes over them.
        for bends in [false, true] {
            for part in form.run.parts.iter().filter(|part| part.bends == bends) {
                let line: Vec<P> = part.line.iter().map(|at| self.sight.at(*at)).collect();
                let line = simple(&line, 0.05);
                let half = part.radius * self.sight.scale;
                let weight = if bends { HEAVY.min(half) } else { THIN };
                self.tube(&line, half, weight, Some(&part.key));
                if bends && half > 0.8 {
                    self.board
                        .open(Class::LayLine, Some(&part.key), std::slice::from_ref(&line));
                }
            }
        }
        self.flow();
    }

    /// An arrow of the flow on the longest piece that is seen.
    fn flow(&mut self) {
        let parts = self.form.run.parts.iter();
        let lines =
            parts.map(|part| -> Vec<P> { part.line.iter().map(|at| self.sight.at(*at)).collect() });
        let far = |line: &Vec<P>| -> f64 {
            line.windows(2)
                .map(|pair| match pair {
                    [a, b] => (a.0 - b.0).hypot(a.1 - b.1),
                    _ => 0.0,
                })
                .sum()
        };
        let Some(line) = lines.max_by(|one, other| far(one).total_cmp(&far(other))) else {
            return;
        };
        let mut left = far(&line) * 0.4;
        for pair in line.windows(2) {
            let [a, b] = pair else { continue };
            let long = (b.0 - a.0).hypot(b.1 - a.1);
            if long > 1e-6 && left <= long {
                let way = ((b.0 - a.0) / long, (b.1 - a.1) / long);
                let at = (a.0 + left * way.0, a.1 + left * way.1);
                if self.sight.window.grown(-1.5).holds(at) {
                    self.board
                        .arrow((at.0 + 1.1 * way.0, at.1 + 1.1 * way.1), way);
                }
                return;
            }
            left -= long;
        }
    }

    /// A band across the hose for each clip, and its mark beside it.
    fn clips(&mut self) {
        let form = self.form;
        for clip in form.clips() {
            let at = self.sight.at(clip.at);
            if !self.sight.window.holds(at) {
                continue;
            }
            let half = clip.radius * self.sight.scale + 0.6;
            let [right, up, _] = self.sight.look.at(clip.axis);
            let long = right.hypot(up);
            if long > 0.3 {
                let (ux, uy) = (right / long, -up / long);
                let thick = (0.0045 * self.sight.scale * long).max(0.35);
                let corner = |along: f64, across: f64| {
                    (
                        at.0 + along * ux - across * uy,
                        at.1 + along * uy + across * ux,
                    )
                };
                let band = [
                    corner(-thick, -half),
                    corner(thick, -half),
                    corner(thick, half),
                    corner(-thick, half),
                ];
                let band = self.sight.window.clipped(&band);
                self.board.closed(Class::Solid, Some(&clip.joint), &[band]);
            } else if self.sight.window.grown(-half).holds(at) {
                self.board
                    .circle(Class::Middle, Some(&clip.joint), at, half);
            }
            // Clips of one end stand side by side: one mark does for them.
            if clip.nth > 1 {
                continue;
            }
            let how = Type {
                size: SIZE,
                ..Type::BOLD
            };
            let box_of = (how.width(&clip.mark) + 0.6, FEED * SIZE * 0.9);
            if let Some(place) = self.room.near(at, box_of) {
                self.leader(at, place, box_of, half);
                let base = (place.0, place.1 + 0.36 * SIZE);
                self.board
                    .patch(how.at(Anchor::Middle), Some(&clip.joint), base, &clip.mark);
                self.room.take(around(place, box_of));
            }
        }
    }

    /// A fine line from the edge of a label to the place that it names.
    fn leader(&mut self, at: P, place: P, (wide, high): P, free: f64) {
        let (dx, dy) = (at.0 - place.0, at.1 - place.1);
        let long = dx.hypot(dy);
        // As far from the middle of the label as its box reaches that way.
        let out =
            ((wide / 2.0 + 0.4) / dx.abs().max(1e-9)).min((high / 2.0 + 0.2) / dy.abs().max(1e-9));
        if long > out.mul_add(long, free + 1.0) {
            self.board
                .line(Class::Fine, (place.0 + dx * out, place.1 + dy * out), at);
        }
    }

    fn gap(&mut self) {
        let Some(gap) = &self.form.run.gap else {
            return;
        };
        let (from, to) = (self.sight.at(gap.from), self.sight.at(gap.to));
        let window = self.sight.window.grown(-0.5);
        if !(window.holds(from) && window.holds(to)) {
            return;
        }
        let key = format!("{}.gap", self.form.run.run);
        self.board
            .open(Class::Middle, Some(&key), &[vec![from, to]]);
        let long = (to.0 - from.0).hypot(to.1 - from.1);
        if long > 0.3 {
            let (nx, ny) = (-(to.1 - from.1) / long, (to.0 - from.0) / long);
            for (x, y) in [from, to] {
                let tick = ((x - 1.1 * nx, y - 1.1 * ny), (x + 1.1 * nx, y + 1.1 * ny));
                if window.holds(tick.0) && window.holds(tick.1) {
                    self.board.line(Class::Middle, tick.0, tick.1);
                }
            }
        }
    }

    /// The radius of the tightest bend, from the middle of its circle where that is in view.
    fn bend(&mut self) {
        let Some(bend) = &self.form.run.bend else {
            return;
        };
        let window = self.sight.window.grown(-0.5);
        let (at, centre) = (self.sight.at(bend.at), self.sight.at(bend.centre));
        let long = (at.0 - centre.0).hypot(at.1 - centre.1);
        if long < 3.0 || !window.holds(at) {
            return;
        }
        let way = ((at.0 - centre.0) / long, (at.1 - centre.1) / long);
        let Some((from, _)) = window.cut(centre, at) else {
            return;
        };
        let start = (
            centre.0 + from * (at.0 - centre.0),
            centre.1 + from * (at.1 - centre.1),
        );
        let key = format!("{}.bend", self.form.run.run);
        self.board.open(Class::Fine, Some(&key), &[vec![start, at]]);
        self.board.arrow(at, way);
        if from <= 0.0 {
            for (dx, dy) in [(0.9, 0.0), (0.0, 0.9)] {
                let cross = (
                    (centre.0 - dx, centre.1 - dy),
                    (centre.0 + dx, centre.1 + dy),
                );
                if window.holds(cross.0) && window.holds(cross.1) {
                    self.board.line(Class::Fine, cross.0, cross.1);
                }
            }
        }
    }

    fn balloons(&mut self, told: &[Told]) {
        for own in told {
            let at = self.sight.at(own.at);
            if !self.sight.window.grown(-0.3).holds(at) {
                continue;
            }
            let box_of = (4.6, 4.6);
            let Some(place) = self.room.near(at, box_of) else {
                continue;
            };
            self.board.line(Class::Fine, place, at);
            self.board.circle(Class::Solid, None, at, 0.45);
            balloon(self.board, place, own.letter);
            self.room.take(around(place, box_of));
        }
    }

    /// The still waterline with its sign; where it is out of view, words.
    fn waterline(&mut self) {
        if self.view == View::Above {
            return;
        }
        let window = self.sight.window;
        let (_, y) = self.sight.at([0.0, 0.0, 0.0]);
        if y > window.top + 1.0 && y < window.bottom - 1.0 {
            let line = vec![(window.left, y), (window.right, y)];
            self.board
                .open(Class::Waterline, Some("waterline"), &[line]);
            let x = window.right - 4.0;
            let over = y - 3.0 > window.top + 0.4;
            if over {
                let sign = [(x, y - 0.2), (x - 1.6, y - 2.8), (x + 1.6, y - 2.8)];
                self.board.figure(Class::Thin, &sign);
                self.room.take(around((x, y - 1.5), (3.6, 3.4)));
            }
            for (half, off) in [(1.6, 0.9), (0.8, 1.7)] {
                if y + off < window.bottom - 0.3 {
                    self.board
                        .line(Class::Fine, (x - half, y + off), (x + half, y + off));
                }
            }
            return;
        }
        let words = if y >= window.bottom - 1.0 {
            "still waterline: below this view"
        } else {
            "still waterline: above this view"
        };
        let how = Type::SOFT.at(Anchor::End);
        if how.width(words) > window.right - window.left - 3.0 {
            return;
        }
        let base = if y >= window.bottom - 1.0 {
            window.bottom - 1.4
        } else {
            window.top + 3.2
        };
        let at = (window.right - 1.2, base);
        let taken = how.extent(at, words);
        self.board.text(how, Some("waterline"), at, words);
        self.room.take(taken);
    }

    /// The names of bodies, each on what is seen of it, else beside it with a leader.
    fn names(&mut self, bodies: &[&LaidBody], hiders: &Hiders) {
        for (number, body) in bodies.iter().enumerate() {
            let Some(seen) = self.seen_box(body, hiders) else {
                continue;
            };
            let owner = (body.nature != "hull").then_some(number);
            let is_own = |p: P| hiders.owner(p) == owner;
            let broad = (seen.right - seen.left - 1.6).clamp(14.0, 30.0);
            let lines = wrapped(Type::SMALL, broad, &body.title);
            let wide = lines
                .iter()
                .map(|line| Type::SMALL.width(line))
                .fold(0.0, f64::max);
            // OK because a name has few lines.
            let tall = lines.len() as f64 * FEED * SMALL;
            let size = (wide + 0.8, tall + 0.4);
            let all_own = |(x, y): P| {
                [-0.5, 0.0, 0.5].iter().all(|along| {
                    [-0.5, 0.5]
                        .iter()
                        .all(|down| is_own((x + along * wide, y + down * tall)))
                })
            };
            let place = match self.room.inside(seen, size, all_own) {
                Some(place) => place,
                // Of the hull all is own where nothing else is: it needs no leader.
                None if owner.is_none() => continue,
                None => {
                    let Some(at) = self.own_spot(seen, &is_own) else {
                        continue;
                    };
                    let Some(place) = self.room.near(at, size) else {
                        continue;
                    };
                    self.leader(at, place, size, 0.0);
                    self.board.circle(Class::Solid, None, at, 0.35);
                    place
                }
            };
            let mut base = place.1 - tall / 2.0 - 0.3 * SMALL;
            for line in &lines {
                base += FEED * SMALL;
                let how = Type::SMALL.at(Anchor::Middle);
                self.board
                    .patch(how, Some(&body.name), (place.0, base), line);
            }
            self.room.take(around(place, size));
        }
    }

    /// A place on what is seen of a body, clear of labels and hoses, as near to the middle of its box as may be.
    fn own_spot(&self, seen: Extent, is_own: &dyn Fn(P) -> bool) -> Option<P> {
        let (wide, high) = (seen.right - seen.left, seen.bottom - seen.top);
        let shares = (1..12_u8).map(|n| f64::from(n) / 12.0);
        let mut spots: Vec<(f64, P)> = shares
            .clone()
            .flat_map(|down| shares.clone().map(move |along| (along, down)))
            .map(|(along, down)| {
                let at = (seen.left + along * wide, seen.top + down * high);
                ((along - 0.5).hypot(down - 0.5), at)
            })
            .collect();
        spots.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut spots = spots.into_iter().map(|(_, at)| at);
        spots.find(|at| is_own(*at) && self.room.is_free(around(*at, (0.8, 0.8))))
    }

    /// The box of what is seen of a body in the window.
    fn seen_box(&self, body: &LaidBody, hiders: &Hiders) -> Option<Extent> {
        let window = self.sight.window;
        let lines = edges(body, &self.sight)
            .into_iter()
            .flat_map(|(a, b)| hiders.lines(a, b, &window));
        let points: Vec<P> = lines.flatten().collect();
        if points.is_empty() {
            return None;
        }
        let fold = |of: fn(&P) -> f64, pick: fn(f64, f64) -> f64, from: f64| {
            points.iter().map(of).fold(from, pick)
        };
        let mut seen = Extent {
            left: fold(|p| p.0, f64::min, f64::INFINITY),
            top: fold(|p| p.1, f64::min, f64::INFINITY),
            right: fold(|p| p.0, f64::max, f64::NEG_INFINITY),
            bottom: fold(|p| p.1, f64::max, f64::NEG_INFINITY),
        };
        // Where an edge of it is out of view, it goes on to the frame.
        let all = body.points.iter().map(|point| self.sight.at(*point));
        for (x, y) in all {
            if x < window.left {
                seen.left = window.left;
            }
            if x > window.right {
                seen.right = window.right;
            }
            if y < window.top {
                seen.top = window.top;
            }
            if y > window.bottom {
                seen.bottom = window.bottom;
            }
        }
        Some(seen)
    }
}

/// Whether a body comes near a run, by their upright boxes.
fn is_near(body: &LaidBody, run: &LaidRun) -> bool {
    let mut low = [f64::INFINITY; 3];
    let mut most = [f64::NEG_INFINITY; 3];
    for point in &body.points {
        for ((low, most), along) in low.iter_mut().zip(&mut most).zip(point) {
            *low = low.min(*along);
            *most = most.max(*along);
        }
    }
    let all = run
        .parts
        .iter()
        .flat_map(|part| part.line.iter().map(|place| (*place, part.radius)));
    let mut near = all.filter(|(place, radius)| {
        let off = place.iter().zip(low.iter().zip(&most));
        let far: f64 = off
            .map(|(along, (low, most))| (low - along).max(along - most).max(0.0).powi(2))
            .sum();
        far.sqrt() < NEAR + radius
    });
    near.next().is_some()
}
