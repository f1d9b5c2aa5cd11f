package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.LivingAxes;
import soakbench.drift.still.TemperatureCourse;

/**
 * A still block with all that a bias curve asks of it.
 *
 * @param midS its middle, s since the soak began
 * @param widthS seconds of still readings in it
 * @param temperatureC mean temperature, degC
 * @param rateCPerS how fast it changes
 * @param sinceBootS its middle, s since the last power-on that the soak shows
 * @param biasDps mean rates, deg/s, x y z
 * @param segment counts poses, boots and steps of a stored offset; each has its own offset of bias
 */
record CurveBlock(
    double midS,
    double widthS,
    double temperatureC,
    double rateCPerS,
    double sinceBootS,
    double[] biasDps,
    int segment) {

  /** More than this are joined with their neighbours: a fit grows with the cube. */
  private static final int MOST = 160;

  private static final double CLOSE_C = 0.02;

  /** The soak's blocks whose temperature is known, in poses of at least two, by time. */
  static List<CurveBlock> of(StillSoak soak) {
    List<CurveBlock> out = new ArrayList<>();
    boolean seldom = soak.course().seldom();
    for (BiasBlock b : OffsetSteps.apart(soak)) {
      TemperatureCourse.Reading celsius = soak.course().over(b.midS(), b.widthS());
      if (celsius.known()) {
        double c = seldom ? celsius.temperatureC() : b.temperatureC();
        double boot = soak.sinceBootS(b.midS());
        out.add(
            new CurveBlock(
                b.midS(), b.widthS(), c, celsius.rateCPerS(), boot, b.biasDps(), b.segment()));
      }
    }
    return withoutLonePoses(joined(withoutLonePoses(out)));
  }

  /** Without poses of a single block, whose offset takes up all of it. */
  static List<CurveBlock> withoutLonePoses(List<CurveBlock> blocks) {
    Map<Integer, Integer> counts = new HashMap<>();
    blocks.forEach(b -> counts.merge(b.segment, 1, Integer::sum));
    return blocks.stream().filter(b -> counts.get(b.segment) > 1).toList();
  }

  /** Neighbours of one pose joined where the temperature moves least, until they are few. */
  private static List<CurveBlock> joined(List<CurveBlock> blocks) {
    List<CurveBlock> out = blocks;
    for (double closeC = CLOSE_C; out.size() > MOST && closeC < 100; ) {
      List<CurveBlock> fewer = pass(out, closeC);
      closeC = fewer.size() > 0.9 * out.size() ? 2 * closeC : closeC;
      out = fewer;
    }
    return out.size() > MOST ? out.subList(out.size() - MOST, out.size()) : out;
  }

  private static List<CurveBlock> pass(List<CurveBlock> blocks, double closeC) {
    List<CurveBlock> out = new ArrayList<>();
    for (int i = 0; i < blocks.size(); i++) {
      CurveBlock a = blocks.get(i);
      CurveBlock b = i + 1 < blocks.size() ? blocks.get(i + 1) : null;
      boolean joins =
          b != null && b.segment == a.segment && Math.abs(a.temperatureC - b.temperatureC) < closeC;
      out.add(joins ? join(a, b) : a);
      i += joins ? 1 : 0;
    }
    return out;
  }

  private static CurveBlock join(CurveBlock a, CurveBlock b) {
    double w = a.widthS + b.widthS;
    double p = a.widthS / w;
    double q = b.widthS / w;
    double[] bias = new double[3];
    for (int i = 0; i < 3; i++) {
      bias[i] = p * a.biasDps[i] + q * b.biasDps[i];
    }
    return new CurveBlock(
        p * a.midS + q * b.midS,
        w,
        p * a.temperatureC + q * b.temperatureC,
        p * a.rateCPerS + q * b.rateCPerS,
        p * a.sinceBootS + q * b.sinceBootS,
        bias,
        a.segment);
  }

  /** Lowest and highest temperature of blocks, degC. */
  static double[] range(List<CurveBlock> blocks) {
    double[] t = blocks.stream().mapToDouble(CurveBlock::temperatureC).sorted().toArray();
    return new double[] {t[0], t[t.length - 1]};
  }

  /** Which axes never changed: dead, or too coarse to show any drift. */
  static boolean[] dead(List<CurveBlock> blocks) {
    boolean[] dead = new boolean[3];
    Arrays.fill(dead, true);
    for (CurveBlock b : blocks) {
      for (int axis = 0; axis < 3; axis++) {
        double moved = Math.abs(b.biasDps()[axis] - blocks.get(0).biasDps()[axis]);
        dead[axis] &= moved < LivingAxes.LEAST_DPS;
      }
    }
    return dead;
  }
}
