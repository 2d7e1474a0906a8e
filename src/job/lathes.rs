//! Three generic lathes, every value assumed.
