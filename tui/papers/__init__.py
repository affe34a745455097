"""Papers: what the shop gives out, said once and written as text, as a page, and on the screen."""
