package soakbench.lots;

import soakbench.model.Soak;

/** One soak of a unit with its figures. */
public record UnitSoak(Soak soak, SoakFigures figures) {}
