//! The workshop a file lies in: found, read with all its files, made anew.

mod contents;
mod find;
mod make;

pub use contents::{ShopContents, ShopFile, shop_contents};
pub use find::{WORKSHOP_FILE, is_demonstration, nearest_workshop, shop_tape};
pub use make::{Along, NewShop, make_shop};
