//! What stands at the end of a duct: walls, the open air, ports and nozzles, area steps, junctions.
