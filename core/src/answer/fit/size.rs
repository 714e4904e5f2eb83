//! The next usual size that would not shade.

use super::light::Light;
use super::placed::Placed;
use crate::physics::opening::{Opening, OpeningRecord, Shape};
use crate::physics::spare::spare;
use crate::quantity::Span;
use crate::setup::sizes::{PANELS, PanelSize, THREADS, ThreadSize};

/// A size of the trade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum UsualSize {
    /// A filter thread.
    Thread(ThreadSize),
    /// A panel or a round drop-in.
    Panel(PanelSize),
}

/// The smallest usual size of the same shape that, put in the same place, is
/// clear by the figures; `None` when none is large enough.
///
/// A round opening is a thread before it is a drop-in of the same clear width.
pub(in crate::answer) fn clear_size(light: Light, placed: &Placed) -> Option<UsualSize> {
    let opening = &placed.opening;
    let is_clear = |shape: Shape| {
        let record = *opening.record();
        let there = Placed {
            opening: Opening::new(OpeningRecord { shape, ..record }),
            ..*placed
        };
        light.least(&there.judged(), spare) >= 0.0
    };
    let span = |mm: f64| Span::new(mm).ok();
    match opening.record().shape {
        Shape::Circle { .. } => {
            let round =
                |mm: f64| span(mm).is_some_and(|diameter| is_clear(Shape::Circle { diameter }));
            let threads = (THREADS.iter())
                .find(|size| round(size.clear))
                .map(|size| (size.clear, UsualSize::Thread(*size)));
            let panels = (PANELS.iter())
                .find(|size| size.is_round && round(size.clear_width))
                .map(|size| (size.clear_width, UsualSize::Panel(*size)));
            let smaller = |one: (f64, UsualSize), other: (f64, UsualSize)| {
                if other.0 < one.0 { other } else { one }
            };
            let found = threads.map_or(panels, |thread| {
                Some(panels.map_or(thread, |panel| smaller(thread, panel)))
            });
            found.map(|(_, size)| size)
        }
        Shape::Rectangle { .. } => (PANELS.iter())
            .filter(|size| !size.is_round)
            .find(|size| {
                let sides = span(size.clear_width).zip(span(size.clear_height));
                sides.is_some_and(|(width, height)| is_clear(Shape::Rectangle { width, height }))
            })
            .map(|size| UsualSize::Panel(*size)),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::answer::tests::{question, ring, square};
    use super::super::light::Light;
    use super::{UsualSize, clear_size};
    use crate::answer::Placed;
    use alloc::format;
    use alloc::string::String;

    fn named(opening: &Placed) -> Option<String> {
        let asked = question(&[]);
        let light = Light::new(&asked.view, asked.f_number, &asked.lens.unwrap());
        clear_size(light, opening).map(|size| match size {
            UsualSize::Thread(size) => format!("thread {}", size.thread),
            UsualSize::Panel(size) => size.name.into(),
        })
    }

    #[test]
    fn the_next_thread_or_drop_in_that_holds_the_light() {
        // At 10 mm the edge of the light is 45 from the axis: 90 across, and a
        // thread of 95 has 91. At 28 it is 63: more than a thread of 127 has.
        assert_eq!(named(&ring(60.0, 10.0)).unwrap(), "thread 95");
        assert_eq!(named(&ring(60.0, 28.0)).unwrap(), "138 mm round");
    }

    #[test]
    fn the_smallest_panel_whose_height_and_width_both_do() {
        // At z = 60 mm the light ends 53 to the side and 41 up, a pupil of 5
        // counted: 106 by 82.
        assert_eq!(named(&square(50.0, 30.0)).unwrap(), "4 × 5.65 in");
    }

    #[test]
    fn far_out_no_size_is_large_enough() {
        assert_eq!(named(&ring(60.0, 300.0)), None);
    }
}
