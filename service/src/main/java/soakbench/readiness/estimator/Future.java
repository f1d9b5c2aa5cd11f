package soakbench.readiness.estimator;

import java.util.Arrays;

/**
 * What one filter will know of body and room, step by step, with blocks as good as the newest: that
 * does not depend on what will be read. Its means will drift by the gains, driven by innovations
 * that nobody can know yet but whose size is known.
 *
 * @param rateVariance of the temperature's rate at each step, (degC/s)^2
 * @param changeVariance of the temperature's change until each horizon, the room's doing included,
 *     degC^2
 * @param gain by how much each thermal entry moves in each step for an innovation of one standard
 *     deviation of the temperature
 * @param curves what will be known of the axes
 */
record Future(
    double[] rateVariance, double[][] changeVariance, double[][] gain, FutureCurves curves) {

  /** Beyond so many steps nothing gets narrower any more. */
  static final int STEPS = 45;

  /**
   * Runs a filter ahead along its own mean path.
   *
   * @param like a block as they will be
   * @param curves what is known already of the axes' future where they have filters of their own;
   *     null to work it out along this filter's path
   */
  static Future of(WeighedFilter part, Block like, FutureCurves curves) {
    Member member = part.member().copy();
    double[] rate = new double[STEPS];
    double[][] change = new double[STEPS][RoomModel.HORIZONS];
    double[][] gain = new double[STEPS][];
    FutureCurves.Run run = curves == null ? new FutureCurves.Run(part, like) : null;
    double[] row = new double[member.belief().size()];
    for (int i = 0; i < STEPS; i++) {
      rate[i] = rateVariance(member.belief(), row);
      for (int h = 0; h < RoomModel.HORIZONS; h++) {
        change[i][h] = changeVariance(member, h, row);
        if (run != null) {
          run.look(member, i, h, row);
        }
      }
      double beforeC = member.temperatureC();
      member.predict(member.model().ahead(), Forecast.STEP_S, 0);
      double byC = member.temperatureC() - beforeC;
      gain[i] = member.confirm(like.reading(), Forecast.BLOCKS);
      if (run != null) {
        run.step(member, i, byC);
      }
    }
    return new Future(rate, change, gain, run == null ? curves : run.curves());
  }

  private static double rateVariance(Belief b, double[] row) {
    Arrays.fill(row, 0);
    Thermal.rateRow(row);
    return b.varianceOf(row);
  }

  private static double changeVariance(Member m, int h, double[] row) {
    Arrays.fill(row, 0);
    Belief b = m.belief();
    m.model().changeRow(h, b.mean(Thermal.INVERSE), b.mean(Thermal.SLOPE), row);
    return b.varianceOf(row) + m.model().unforeseen(h);
  }
}
