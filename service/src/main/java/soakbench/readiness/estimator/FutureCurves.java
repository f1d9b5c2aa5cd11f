package soakbench.readiness.estimator;

/**
 * What will be known of the axes' curves, step by step along a temperature's mean path.
 *
 * @param curve covariances of slope, bend and settling at each step, for each axis: of slope, slope
 *     with bend, slope with settling, bend, bend with settling, settling
 * @param cross covariance of each axis' slope with the temperature's change until each horizon;
 *     zero where the temperature is given
 * @param gain by how much each entry moves in each step for an innovation of one standard deviation
 *     of each rate: of the whole state, or of the axis alone where it has filters of its own; null
 *     where nothing is known of the rate's noise
 * @param movedC by how much the reference of the curves moves in each step, degC
 */
record FutureCurves(double[][][] curve, double[][][] cross, double[][][] gain, double[] movedC) {
  private static final int[] ENTRIES = {Axis.SLOPE, Axis.BEND, Axis.SETTLING};

  /** Variance of a sum of an axis' slope, bend and settling. */
  double variance(int step, int axis, double slope, double bend, double settling) {
    double[] c = curve[step][axis];
    return slope * slope * c[0]
        + 2 * slope * bend * c[1]
        + 2 * slope * settling * c[2]
        + bend * bend * c[3]
        + 2 * bend * settling * c[4]
        + settling * settling * c[5];
  }

  /** Works it out; fed step by step. */
  static final class Run {
    private final Block like;
    private final boolean joint;
    private final Belief[] own = new Belief[3];
    private final double[] flickerVariance = new double[3];
    private final double[][][] curve = new double[Future.STEPS][3][6];
    private final double[][][] cross = new double[Future.STEPS][3][RoomModel.HORIZONS];
    private final double[][][] gain = new double[Future.STEPS][3][];
    private final double[] movedC = new double[Future.STEPS];

    Run(WeighedFilter part, Block like) {
      this.like = like;
      this.joint = part.axes().length == 0;
      for (int a = 0; a < part.axes().length; a++) {
        int likeliest = part.axes()[a].weights().likeliest();
        own[a] = part.axes()[a].belief(likeliest).copy();
        flickerVariance[a] = Axis.flickerVariance(AxisBank.FLICKER_DEG_PER_H[likeliest]);
      }
    }

    FutureCurves curves() {
      return new FutureCurves(curve, cross, gain, movedC);
    }

    /**
     * Notes what is known before a step.
     *
     * @param row parts of the change until the horizon
     */
    void look(Member member, int step, int horizon, double[] row) {
      for (int a = 0; a < 3; a++) {
        Belief b = joint ? member.belief() : own[a];
        int at = joint ? Member.at(a) : 0;
        if (horizon == 0) {
          note(b, at, curve[step][a]);
        }
        for (int i = 0; joint && i < Thermal.SIZE; i++) {
          cross[step][a][horizon] += row[i] * b.cov(i, at + Axis.SLOPE);
        }
      }
    }

    private static void note(Belief b, int at, double[] out) {
      int k = 0;
      for (int i = 0; i < 3; i++) {
        for (int j = i; j < 3; j++) {
          out[k++] = b.cov(at + ENTRIES[i], at + ENTRIES[j]);
        }
      }
    }

    /** Goes on by a step of the member's. */
    void step(Member member, int step, double byC) {
      movedC[step] = byC;
      member.moveReference(byC);
      double given = joint ? 0 : member.temperatureVariance();
      for (int a = 0; a < 3; a++) {
        double variance = like.variance()[a] / Forecast.BLOCKS;
        boolean known = variance < Double.POSITIVE_INFINITY;
        if (joint) {
          gain[step][a] = known ? member.confirm(a, variance) : null;
        } else {
          Axis.predict(own[a], 0, flickerVariance[a], Forecast.STEP_S);
          Axis.moveReference(own[a], 0, byC);
          gain[step][a] = known ? AxisBank.confirm(own[a], variance, given) : null;
        }
      }
    }
  }
}
