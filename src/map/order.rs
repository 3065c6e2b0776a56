//! The running order of the points of one line, from surge to choke.

use super::error::{MapError, Remark};
use super::line::Point;

/// Share of the largest flow within which points at the choke end count as one upright piece.
/// Common practice: mass flow is measured to a few tenths of a per cent.
const UPRIGHT_SCATTER: f64 = 0.004;

/// Puts the points of a line in running order: flow rising, and at an upright end ratio falling.
///
/// Readings at a choked end scatter in flow, so that flow alone would order them at random: there
/// the falling ratio gives the order, and flows that then step back are evened out and reported.
pub fn run(speed: f64, points: &mut [Point]) -> Result<Option<Remark>, MapError> {
    points.sort_by(|a, b| {
        a.flow
            .total_cmp(&b.flow)
            .then(b.pressure_ratio.total_cmp(&a.pressure_ratio))
    });
    let (first, last) = (points[0].flow, points[points.len() - 1].flow);
    if last - first <= 1e-9 * last {
        let rows = points.iter().map(|p| p.row).collect();
        return Err(MapError::UprightLine { speed, rows });
    }
    let scatter = (UPRIGHT_SCATTER * last).min(0.05 * (last - first));
    let start = points.partition_point(|p| p.flow < last - scatter);
    let upright = &mut points[start..];
    let falling = upright
        .windows(2)
        .all(|w| w[1].pressure_ratio < w[0].pressure_ratio);
    let remark = if falling {
        None
    } else {
        upright.sort_by(|a, b| {
            b.pressure_ratio
                .total_cmp(&a.pressure_ratio)
                .then(a.flow.total_cmp(&b.flow))
        });
        let remark = even_out(speed, upright);
        refuse_one_place(upright)?;
        remark
    };
    refuse_equal_flows(&points[..=start])?;
    Ok(remark)
}

/// Replaces flows that fall along the piece by their mean (pool adjacent violators).
fn even_out(speed: f64, points: &mut [Point]) -> Option<Remark> {
    // Pools of neighbouring points: sum of flows and their count.
    let mut pools: Vec<(f64, usize)> = Vec::with_capacity(points.len());
    for point in points.iter() {
        pools.push((point.flow, 1));
        while let [.., (sum_a, count_a), (sum_b, count_b)] = pools[..] {
            if sum_a / count_a as f64 <= sum_b / count_b as f64 {
                break;
            }
            pools.pop();
            pools.pop();
            pools.push((sum_a + sum_b, count_a + count_b));
        }
    }
    let mut largest_change = 0.0_f64;
    let mut rows = Vec::new();
    let mut rest = points;
    for (sum, count) in pools {
        let (pool, after) = rest.split_at_mut(count);
        for point in pool.iter_mut().filter(|_| count > 1) {
            let mean = sum / count as f64;
            largest_change = largest_change.max((mean - point.flow).abs());
            rows.push(point.row);
            point.flow = mean;
        }
        rest = after;
    }
    (!rows.is_empty()).then_some(Remark::FlowsEvened {
        speed,
        rows,
        largest_change,
    })
}

/// Evened flows of rows with one ratio would be two rows for one place, which no curve can pass.
fn refuse_one_place(points: &[Point]) -> Result<(), MapError> {
    for pair in points.windows(2) {
        let same_flow = pair[1].flow <= pair[0].flow;
        if same_flow && pair[1].pressure_ratio >= pair[0].pressure_ratio {
            let (first, second) = (pair[0].row.min(pair[1].row), pair[0].row.max(pair[1].row));
            return Err(MapError::Contradiction { first, second });
        }
    }
    Ok(())
}

/// One flow with two ratios is legal at the choke end only, which begins at the last point given.
fn refuse_equal_flows(points: &[Point]) -> Result<(), MapError> {
    for pair in points.windows(2) {
        if pair[1].flow <= pair[0].flow {
            let (first, second) = (pair[0].row.min(pair[1].row), pair[0].row.max(pair[1].row));
            return Err(MapError::Contradiction { first, second });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(pairs: &[(f64, f64)]) -> Vec<Point> {
        let point = |(row, &(flow, pressure_ratio)): (usize, &(f64, f64))| Point {
            flow,
            pressure_ratio,
            head: 0.0,
            efficiency: 0.7,
            row,
        };
        pairs.iter().enumerate().map(point).collect()
    }

    fn order(points: &[Point]) -> Vec<usize> {
        points.iter().map(|p| p.row).collect()
    }

    #[test]
    fn an_upright_end_is_ordered_by_falling_ratio() {
        let mut line = points(&[(0.2, 1.2), (0.2, 1.6), (0.1, 2.0), (0.2, 1.4)]);
        assert_eq!(run(1e5, &mut line), Ok(None));
        assert_eq!(order(&line), vec![2, 1, 3, 0]);
    }

    #[test]
    fn scattered_flows_at_choke_are_evened_and_reported() {
        let mut line = points(&[(0.1, 2.0), (0.1999, 1.2), (0.2001, 1.6), (0.15, 1.9)]);
        let remark = run(1e5, &mut line);
        assert_eq!(order(&line), vec![0, 3, 2, 1]);
        assert!(matches!(remark, Ok(Some(Remark::FlowsEvened { rows, .. })) if rows == [2, 1]));
        assert!((line[2].flow - 0.2).abs() < 1e-15 && (line[3].flow - 0.2).abs() < 1e-15);
    }

    #[test]
    fn two_rows_that_evening_would_put_into_one_place_are_refused() {
        let mut line = points(&[(0.1, 2.0), (0.2, 1.5), (0.20005, 1.5), (0.1999, 1.4)]);
        assert!(matches!(
            run(1e5, &mut line),
            Err(MapError::Contradiction { .. })
        ));
        // Equal ratios that rise in flow need no evening.
        let mut line = points(&[(0.1, 2.0), (0.2, 1.6), (0.2001, 1.6), (0.1999, 1.7)]);
        assert_eq!(run(1e5, &mut line), Ok(None));
        assert_eq!(order(&line), vec![0, 3, 1, 2]);
    }

    #[test]
    fn a_line_that_turns_over_keeps_the_order_of_flow() {
        let mut line = points(&[(0.3, 1.5), (0.1, 2.0), (0.15, 2.1), (0.2, 2.05)]);
        assert_eq!(run(1e5, &mut line), Ok(None));
        assert_eq!(order(&line), vec![1, 2, 3, 0]);
    }

    #[test]
    fn one_flow_with_two_ratios_in_the_middle_is_refused() {
        let mut line = points(&[(0.1, 2.0), (0.15, 1.9), (0.15, 1.8), (0.2, 1.5)]);
        assert_eq!(
            run(1e5, &mut line),
            Err(MapError::Contradiction {
                first: 1,
                second: 2
            })
        );
    }

    #[test]
    fn a_line_of_one_flow_is_refused() {
        let mut line = points(&[(0.1, 2.0), (0.1, 1.9), (0.1, 1.8)]);
        assert!(matches!(
            run(1e5, &mut line),
            Err(MapError::UprightLine { .. })
        ));
    }
}
