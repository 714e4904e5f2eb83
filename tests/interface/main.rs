//! The public interface against outside values and its own promises.

mod case_file;
mod close_up;
mod colour;
mod depth;
mod derivations;
mod exposure;
mod fit;
mod fit_lens;
mod grads_together;
mod graduated;
mod light;
mod light_drift;
mod planned_day;
mod planning;
mod refusals;
mod searched;
mod shutter;
mod solved;
mod solved_edges;
mod solved_more;
mod spoken;
mod stack_fit;
mod sums;
mod told;
mod working;
