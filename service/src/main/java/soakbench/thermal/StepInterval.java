package soakbench.thermal;

/**
 * What a coarse thermometer's block mean says of the temperature.
 *
 * @param lowC lower end, degC
 * @param highC upper end, degC
 */
record StepInterval(double lowC, double highC) {
  /** A mean this close to a step, in steps, comes from one step alone. */
  private static final double PURE = 0.02;

  /** Half width about the edge between two steps where a block shows both, in steps. */
  private static final double EDGE = 0.15;

  /**
   * The interval of a block.
   *
   * @param meanC mean of the block's readings, degC
   * @param stepC the thermometer's step, degC
   * @param levelC a value that lies on a step, degC
   * @param moveC how far the temperature moves within the block, degC
   */
  static StepInterval of(double meanC, double stepC, double levelC, double moveC) {
    double steps = (meanC - levelC) / stepC;
    double nearest = Math.rint(steps);
    if (Math.abs(steps - nearest) < PURE) {
      double level = levelC + nearest * stepC;
      return new StepInterval(level - stepC / 2, level + stepC / 2);
    }
    double edge = levelC + (Math.floor(steps) + 0.5) * stepC;
    double half = EDGE * stepC + Math.abs(moveC) / 2;
    return new StepInterval(edge - half, edge + half);
  }

  /** How far a value lies outside, degC; negative below. */
  double missC(double valueC) {
    return valueC > highC ? valueC - highC : valueC < lowC ? valueC - lowC : 0;
  }
}
