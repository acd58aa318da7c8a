//! A drawing as SVG text, piece by piece, and the round figures of its axes.

use std::fmt::Write as _;

/// Stands in every plot that this program writes, so that it knows its own again.
pub const MARK: &str = "<!-- Drawn by hosewright flow; written anew each time. -->";

/// Width of the drawing [px]: a telephone shows it at three quarters, and its letters can still be read.
const WIDTH: f64 = 520.0;
/// Left end of the panels, with room for figures and the name of the axis.
pub(super) const LEFT: f64 = 56.0;
/// Right end of the panels.
pub(super) const RIGHT: f64 = 504.0;

/// A spot of the drawing [px], from the upper left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) x: f64,
    pub(super) y: f64,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pen {
    pub(super) width: f64,
    pub(super) dash: &'static str,
}

/// For axes, frames and leaders.
pub(super) const FINE: Pen = Pen {
    width: 1.0,
    dash: "",
};
/// For marks and the waterline.
pub(super) const THIN: Pen = Pen {
    width: 1.5,
    dash: "",
};

impl Pen {
    pub(super) const fn dashed(width: f64, dash: &'static str) -> Self {
        Self { width, dash }
    }
    fn attributes(self) -> String {
        let dash = if self.dash.is_empty() {
            String::new()
        } else {
            format!(" stroke-dasharray=\"{}\"", self.dash)
        };
        format!("stroke=\"black\" stroke-width=\"{}\"{dash}", self.width)
    }
}

/// At which end of a text its spot lies.
#[derive(Clone, Copy, Debug)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

impl Anchor {
    const fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// Text as it may stand in XML: signs of its own are spelled, and what XML does not allow is left out.
pub fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => plain.push_str("&amp;"),
            '<' => plain.push_str("&lt;"),
            '>' => plain.push_str("&gt;"),
            '"' => plain.push_str("&quot;"),
            '\'' => plain.push_str("&apos;"),
            _ if letter.is_control() => plain.push(' '),
            '\u{fffe}' | '\u{ffff}' => {}
            _ => plain.push(letter),
        }
    }
    plain
}

/// A coordinate: a tenth of a pixel is finer than any printer.
fn place(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0 + 0.0;
    format!("{tenths}")
}

/// What has been drawn so far.
#[derive(Debug, Default)]
pub(super) struct Drawing {
    body: String,
}

impl Drawing {
    fn push(&mut self, element: &str) {
        self.body.push_str(element);
        self.body.push('\n');
    }
    pub(super) fn line(&mut self, from: Spot, to: Spot, pen: Pen) {
        self.push(&format!(
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>",
            place(from.x),
            place(from.y),
            place(to.x),
            place(to.y),
            pen.attributes()
        ));
    }
    pub(super) fn path(&mut self, spots: &[Spot], pen: Pen) {
        let mut points = String::new();
        for spot in spots {
            if !points.is_empty() {
                points.push(' ');
            }
            // OK because writing into a String does not fail.
            let _ = write!(points, "{},{}", place(spot.x), place(spot.y));
        }
        self.push(&format!(
            "<polyline points=\"{points}\" fill=\"none\" {}/>",
            pen.attributes()
        ));
    }
    pub(super) fn frame(&mut self, from: Spot, to: Spot, pen: Pen) {
        self.push(&format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" {}/>",
            place(from.x),
            place(from.y),
            place(to.x - from.x),
            place(to.y - from.y),
            pen.attributes()
        ));
    }
    pub(super) fn text(&mut self, at: Spot, anchor: Anchor, text: &str) {
        self.styled(at, anchor, "", text);
    }
    /// A text that lies over lines: a white edge keeps them off its letters.
    pub(super) fn label(&mut self, at: Spot, style: &str, text: &str) {
        let edge = " stroke=\"white\" stroke-width=\"4\" stroke-linejoin=\"round\"";
        self.styled(at, Anchor::Start, &format!("{edge}{style}"), text);
        self.styled(at, Anchor::Start, style, text);
    }
    pub(super) fn styled(&mut self, at: Spot, anchor: Anchor, style: &str, text: &str) {
        self.push(&format!(
            "<text x=\"{}\" y=\"{}\" text-anchor=\"{}\"{style}>{}</text>",
            place(at.x),
            place(at.y),
            anchor.word(),
            escaped(text)
        ));
    }
    /// A triangle: filled and upward for the outlet, open and downward for the return.
    pub(super) fn triangle(&mut self, at: Spot, mark: Mark) {
        let (tip, fill) = match mark {
            Mark::Out => (-6.0, "black"),
            Mark::Back => (6.0, "white"),
        };
        self.push(&format!(
            "<polygon points=\"{},{} {},{} {},{}\" fill=\"{fill}\" {}/>",
            place(at.x),
            place(at.y + tip),
            place(at.x - 5.0),
            place(at.y - tip / 2.0),
            place(at.x + 5.0),
            place(at.y - tip / 2.0),
            THIN.attributes()
        ));
    }
    /// The whole document.
    pub(super) fn finish(self, title: &str, height: f64) -> String {
        let (width, height) = (place(WIDTH), place(height));
        let title = escaped(title);
        format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{MARK}\n\
             <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
             viewBox=\"0 0 {width} {height}\" role=\"img\" font-family=\"B612, 'DejaVu Sans', sans-serif\" \
             font-size=\"13\" fill=\"black\">\n<title>{title}</title>\n\
             <rect x=\"0\" y=\"0\" width=\"{width}\" height=\"{height}\" fill=\"white\"/>\n\
             {}</svg>\n",
            self.body
        )
    }
}

/// Which mark stands at a figure.
#[derive(Clone, Copy, Debug)]
pub(super) enum Mark {
    /// Coolant out of the engine.
    Out,
    /// Coolant back from the cooler.
    Back,
}

/// Round figures along an axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) step: f64,
}

impl Scale {
    /// Over all of the values, in about so many steps of 1, 2 or 5; `None` where no value is finite.
    pub(super) fn over(values: impl IntoIterator<Item = f64>, steps: f64) -> Option<Self> {
        let finite = values.into_iter().filter(|value| value.is_finite());
        let (low, high) = finite.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        });
        if low > high {
            return None;
        }
        // A single value still gets an axis with room on both sides.
        let (low, high) = if high - low < 1e-9 {
            (low - 1.0, high + 1.0)
        } else {
            (low, high)
        };
        let rough = (high - low) / steps;
        let power = 10_f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0]
            .into_iter()
            .map(|figure| figure * power)
            .find(|step| *step >= rough)
            .unwrap_or(10.0 * power);
        Some(Self {
            low: (low / step).floor() * step,
            high: (high / step).ceil() * step,
            step,
        })
    }
    /// The round figures, each with its text.
    fn ticks(self) -> Vec<(f64, String)> {
        // OK because a step below one has few decimals, and one above has none.
        let decimals = (-self.step.log10().floor()).clamp(0.0, 6.0) as usize;
        // OK because a scale has about as many steps as were asked for.
        let count = ((self.high - self.low) / self.step).round() as usize;
        (0..=count)
            .map(|at| {
                let value = self.low + at as f64 * self.step;
                let value = if value.abs() < self.step / 1000.0 {
                    0.0
                } else {
                    value
                };
                (
                    value,
                    format!("{value:.decimals$}").replace('-', "\u{2212}"),
                )
            })
            .collect()
    }
}

/// A field with two axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Panel {
    pub(super) x: Scale,
    pub(super) y: Scale,
    pub(super) top: f64,
    pub(super) bottom: f64,
}

impl Panel {
    pub(super) fn spot(&self, x: f64, y: f64) -> Spot {
        let part = |scale: Scale, value: f64| (value - scale.low) / (scale.high - scale.low);
        Spot {
            x: LEFT + part(self.x, x) * (RIGHT - LEFT),
            y: self.bottom - part(self.y, y) * (self.bottom - self.top),
        }
    }
    /// Frame, and the round figures of the upright axis.
    pub(super) fn draw(&self, drawing: &mut Drawing) {
        self.border(drawing);
        for (value, text) in self.y.ticks() {
            let at = self.spot(self.x.low, value);
            drawing.line(
                Spot {
                    x: at.x - 5.0,
                    y: at.y,
                },
                at,
                FINE,
            );
            let beside = Spot {
                x: at.x - 8.0,
                y: at.y + 4.0,
            };
            drawing.text(beside, Anchor::End, &text);
        }
    }
    /// A hair line up from each round figure of the axis below.
    pub(super) fn hairs(&self, drawing: &mut Drawing) {
        for (value, _) in self.x.ticks() {
            let x = self.spot(value, self.y.low).x;
            let (from, to) = (Spot { x, y: self.bottom }, Spot { x, y: self.top });
            drawing.line(from, to, Pen::dashed(0.25, ""));
        }
    }
    /// Its frame alone, for a field whose upright axis has no figures.
    pub(super) fn border(&self, drawing: &mut Drawing) {
        let (from, to) = (
            Spot {
                x: LEFT,
                y: self.top,
            },
            Spot {
                x: RIGHT,
                y: self.bottom,
            },
        );
        drawing.frame(from, to, FINE);
    }
    /// What the upright axis tells, above it.
    pub(super) fn name(&self, drawing: &mut Drawing, name: &str) {
        let above = Spot {
            x: LEFT,
            y: self.top - 7.0,
        };
        drawing.text(above, Anchor::Start, name);
    }
    /// Round figures and the name of the axis below.
    pub(super) fn draw_below(&self, drawing: &mut Drawing, name: &str) {
        for (value, text) in self.x.ticks() {
            let at = self.spot(value, self.y.low);
            drawing.line(
                at,
                Spot {
                    x: at.x,
                    y: at.y + 5.0,
                },
                FINE,
            );
            let below = Spot {
                x: at.x,
                y: at.y + 18.0,
            };
            drawing.text(below, Anchor::Middle, &text);
        }
        let middle = Spot {
            x: (LEFT + RIGHT) / 2.0,
            y: self.bottom + 34.0,
        };
        drawing.text(middle, Anchor::Middle, name);
    }
    /// A line across at a height of the axis.
    pub(super) fn across(&self, drawing: &mut Drawing, value: f64, pen: Pen) {
        let from = self.spot(self.x.low, value);
        drawing.line(
            from,
            Spot {
                x: RIGHT,
                y: from.y,
            },
            pen,
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_figures_enclose_the_values() {
        let scale = Scale::over([-37.0, 212.0], 6.0).unwrap();
        assert!(scale.low <= -37.0 && scale.high >= 212.0);
        let ticks = scale.ticks();
        assert_eq!(ticks.first().unwrap().1, "\u{2212}50");
        assert!(ticks.iter().any(|(_, text)| text == "0"), "{ticks:?}");
        assert!(Scale::over([f64::NAN], 6.0).is_none());
        let single = Scale::over([20.0], 6.0).unwrap();
        assert!(single.low < 20.0 && single.high > 20.0);
        let fine = Scale::over([0.0, 0.4], 4.0).unwrap();
        assert_eq!(fine.ticks()[1].1, "0.1");
    }

    #[test]
    fn a_name_can_not_break_the_drawing() {
        assert_eq!(
            escaped("a<b> & \"c\" 'd'\u{1}"),
            "a&lt;b&gt; &amp; &quot;c&quot; &apos;d&apos; "
        );
    }

    #[test]
    fn a_coordinate_has_no_minus_nought() {
        assert_eq!(place(-0.01), "0");
        assert_eq!(place(12.34), "12.3");
    }
}
