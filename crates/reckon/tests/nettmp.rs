#[path = "it/net_kit.rs"]
mod net_kit;
#[path = "it/net_random.rs"]
mod net_random;
