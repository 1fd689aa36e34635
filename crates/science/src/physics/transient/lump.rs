//! Bodies so small or so badly coupled that they have one temperature.

use units::Seconds;

/// Is one temperature enough? Bi < 0.1 keeps the difference inside below 5 % of that to the medium.
pub fn is_one_lump(biot: f64) -> bool {
    biot < 0.1
}

/// τ = ρ c V/(h A) with the volume per area in metres. `None` unless all are above zero.
///
/// Source: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, 5.1.
pub fn lump_time_constant(heat_j_m3k: f64, volume_per_area_m: f64, film_w_m2k: f64) -> Option<Seconds> {
    let sound = 0.0 < heat_j_m3k && 0.0 < volume_per_area_m && 0.0 < film_w_m2k;
    sound.then(|| Seconds(heat_j_m3k * volume_per_area_m / film_w_m2k))
}

/// θ = e^(−t/τ).
pub fn theta_of_lump(elapsed: Seconds, time_constant: Seconds) -> f64 {
    (-elapsed.seconds() / time_constant.seconds()).exp()
}
