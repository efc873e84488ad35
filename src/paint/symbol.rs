//! Outcome symbols as vector shapes, so that nothing is told by colour alone.

/// Tick: fits. Cross: does not. Triangle: on a condition. Question mark: not known. Lozenge: tight. Ring: accepted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Symbol {
    Tick,
    Cross,
    Triangle,
    Question,
    Lozenge,
    Ring,
}

/// One stroke of a symbol, in a box from -1 to 1 (y down).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    pub points: &'static [[f32; 2]],
    pub closed: bool,
}

impl Symbol {
    pub const ALL: [Symbol; 6] =
        [Symbol::Tick, Symbol::Cross, Symbol::Triangle, Symbol::Question, Symbol::Lozenge, Symbol::Ring];

    /// The strokes to draw; a pen of about a fifth of the symbol's size suits them.
    pub fn strokes(self) -> &'static [Stroke] {
        match self {
            Symbol::Tick => const { &[open(&[[-0.8, 0.05], [-0.25, 0.65], [0.8, -0.65]])] },
            Symbol::Cross => {
                const { &[open(&[[-0.7, -0.7], [0.7, 0.7]]), open(&[[-0.7, 0.7], [0.7, -0.7]])] }
            }
            Symbol::Triangle => const { &[shut(&[[0.0, -0.8], [0.85, 0.7], [-0.85, 0.7]])] },
            Symbol::Lozenge => const { &[shut(&[[0.0, -0.9], [0.7, 0.0], [0.0, 0.9], [-0.7, 0.0]])] },
            Symbol::Question => {
                const {
                    &[
                        open(&[
                            [-0.5, -0.45],
                            [-0.42, -0.7],
                            [-0.2, -0.87],
                            [0.08, -0.9],
                            [0.35, -0.8],
                            [0.5, -0.58],
                            [0.48, -0.32],
                            [0.3, -0.1],
                            [0.1, 0.08],
                            [0.02, 0.35],
                        ]),
                        open(&[[0.02, 0.78], [0.02, 0.86]]),
                    ]
                }
            }
            Symbol::Ring => {
                const {
                    &[shut(&[
                        [0.75, 0.0],
                        [0.65, 0.375],
                        [0.375, 0.65],
                        [0.0, 0.75],
                        [-0.375, 0.65],
                        [-0.65, 0.375],
                        [-0.75, 0.0],
                        [-0.65, -0.375],
                        [-0.375, -0.65],
                        [0.0, -0.75],
                        [0.375, -0.65],
                        [0.65, -0.375],
                    ])]
                }
            }
        }
    }
}

const fn open(points: &'static [[f32; 2]]) -> Stroke {
    Stroke { points, closed: false }
}

const fn shut(points: &'static [[f32; 2]]) -> Stroke {
    Stroke { points, closed: true }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symbols_differ_in_shape_and_keep_to_their_box() {
        for a in Symbol::ALL {
            let points = a.strokes().iter().flat_map(|s| s.points).flatten();
            assert!(points.clone().all(|v| v.abs() <= 1.0));
            assert!(points.count() >= 4);
            for b in Symbol::ALL {
                assert_eq!(a == b, a.strokes() == b.strokes());
            }
        }
    }
}
