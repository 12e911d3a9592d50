"""From geometry to positions, and from positions to the stops of a rotator at which every weld is made."""
