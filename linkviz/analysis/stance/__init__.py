"""How it stands on its springs, and what that does to the brake valve."""
