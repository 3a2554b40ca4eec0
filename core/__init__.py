"""Records and arithmetic of the group's books: no chat, no clock, no network, no SQL."""
