package soakbench.lots;

import soakbench.model.Soak;

/**
 * One soak of a unit with its figures.
 *
 * @param leftOut why people left it out of the unit's figures; null where it counts
 */
public record UnitSoak(Soak soak, SoakFigures figures, String leftOut) {}
