//! What each way of programming a module costs on average, and when the vehicle is done.
