//! The planes of the header tank: its cap, and with a heel or trim chosen cap and level as they tilt.

use reckon::{Strip, TraceKind};

use super::super::shape::{Anchor, Class, Shape};
use super::Desk;
use super::labels::{Rect, Wanted, along_line, over};
use super::layers::Point;

impl Desk<'_> {
    /// The seat of the cap over the whole width, then the tilted planes.
    pub(super) fn header_lines(&mut self) {
        let (left, right) = self.ends();
        let strip = self.strip;
        let Some(header) = strip.header.as_ref().filter(|_| self.main) else {
            return;
        };
        let field = Rect {
            left,
            top: self.up.top,
            right,
            bottom: self.up.bottom,
        };
        let beside = |y: f64| {
            let places = [0.03, 0.2, 0.35, 0.5, 0.65, 0.8].map(|share| {
                let x = left + share * (right - left);
                [(x, y - 5.0, Anchor::Start), (x, y + 14.0, Anchor::Start)]
            });
            places.into_iter().flatten().collect::<Vec<_>>()
        };
        if let Some(cap) = header.cap {
            let y = self.up.y(cap);
            self.picture
                .put(Class::Header, Shape::line((left, y), (right, y)));
            let words = format!("header cap {}", header.texts[0].in_units(self.units));
            self.say(6, Class::Soft, Some(&header.key), &words, beside(y));
        }
        if let Some((how, what)) = untraced(strip)
            && let Some(z) = header.cap.or(header.level)
        {
            let mut places = beside(self.up.y(z));
            places.extend(over(field));
            self.labels.want(Wanted {
                rank: 3,
                class: Class::Soft,
                key: Some(header.key.clone()),
                text: format!("header {how} unmeasured: {what}"),
                shorter: Some(format!("header {how} unmeasured")),
                grade: None,
                places,
                leads: Vec::new(),
            });
        }
        self.header_traces(&header.key, field);
    }

    fn header_traces(&mut self, key: &str, field: Rect) {
        let strip = self.strip;
        for trace in &strip.traces {
            let Some(header) = &trace.header else {
                continue;
            };
            for (what, stretches) in [("cap", &header.cap), ("level", &header.level)] {
                let lines: Vec<Vec<Point>> = stretches
                    .iter()
                    .map(|line| {
                        let points = line.iter();
                        points.map(|(at, z)| (self.x(*at), self.up.y(*z))).collect()
                    })
                    .collect();
                let mut places = Vec::new();
                for line in &lines {
                    self.picture
                        .put_for(key, Class::Header, Shape::through(line));
                    self.labels.take_line(line, 1.0, false);
                    places.extend(along_line(line, what == "level"));
                    places.extend(along_line(line, what == "cap"));
                }
                if lines.is_empty() {
                    continue;
                }
                places.extend(over(field));
                self.labels.want(Wanted {
                    rank: 6,
                    class: Class::Soft,
                    key: Some(key.to_owned()),
                    text: format!("header {what}, {}", trace.name),
                    shorter: Some(format!("{what}, {}", trace.name)),
                    grade: None,
                    places,
                    leads: lines,
                });
            }
        }
    }
}

/// How she lies where the planes of the header have no trace, and what nobody measured for it.
fn untraced(strip: &Strip) -> Option<(&'static str, String)> {
    let (mut heel, mut trim) = (false, false);
    let mut what: Vec<&str> = Vec::new();
    for trace in &strip.traces {
        let header = trace.header.as_ref();
        let Some(missing) = header.and_then(|header| header.missing.as_deref()) else {
            continue;
        };
        match trace.kind {
            TraceKind::Starboard | TraceKind::Port => heel = true,
            TraceKind::Trim => trim = true,
        }
        if !what.contains(&missing) {
            what.push(missing);
        }
    }
    let how = match (heel, trim) {
        (true, true) => "tilted",
        (true, false) => "heeled",
        (false, true) => "trimmed",
        (false, false) => return None,
    };
    Some((how, what.join(" and ")))
}
