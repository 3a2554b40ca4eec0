"""The ear: text to readings, a pure function of the text, the sender, the time and the group's names."""
