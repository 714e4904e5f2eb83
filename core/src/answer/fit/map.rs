//! What is lost over the whole picture.

use super::light::Light;
use super::question::Question;
use crate::physics::opening::Opening;
use crate::physics::passed::loss;
use crate::quantity::Stops;
use alloc::vec::Vec;

/// Stops lost over the picture, row by row from the top; `None` where nothing
/// passes.
///
/// # Units
///
/// Stops, at the middle of each of `columns` by `rows` equal fields; for a pupil
/// between limits the greater loss of both ends. No map where the pupil is not
/// known.
#[must_use]
pub fn loss_map(
    question: &Question<'_>,
    columns: usize,
    rows: usize,
) -> Option<Vec<Option<Stops>>> {
    let light = Light::new(&question.view, question.f_number, &question.lens?);
    let openings: Vec<Opening> = question.openings.iter().map(|p| p.opening).collect();
    #[expect(
        clippy::cast_precision_loss,
        reason = "no picture has 2⁵³ columns or rows"
    )]
    let share = |at: usize, of: usize| (at as f64 + 0.5) / of as f64;
    let mut map = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        for column in 0..columns {
            let field = (question.view).tangents_of(share(column, columns), 1.0 - share(row, rows));
            map.push(loss(light.passed_towards(field, &openings)));
        }
    }
    Some(map)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::answer::fit;
    use super::super::answer::tests::{question, ring};
    use super::*;

    #[test]
    fn the_map_is_symmetric_and_ends_at_the_corner_answer() {
        let openings = [ring(76.0, 10.0)];
        let map = loss_map(&question(&openings), 9, 7).unwrap();
        for row in 0..7 {
            for column in 0..9 {
                let mirrored = map[(6 - row) * 9 + 8 - column];
                let here = map[row * 9 + column].unwrap().stops();
                assert!((here - mirrored.unwrap().stops()).abs() < 1e-9);
            }
        }
        assert_eq!(map[3 * 9 + 4], Some(Stops::ZERO));
        let corner = loss(fit(&question(&openings)).unwrap().corner_passed.unwrap()).unwrap();
        assert!(map[0].unwrap() > Stops::ZERO && map[0].unwrap() < corner);
    }
}
