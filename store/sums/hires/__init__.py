"""Days and money of hired kits."""
