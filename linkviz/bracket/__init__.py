"""Drop brackets for the lateral bar: parts, loads, checks of strength, lengths and holes. Plain numbers, no vehicle."""
