package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;

/** Blocks of one pose made from a formula, half a minute apart. */
final class CurveBlocks {
  private CurveBlocks() {}

  /** All axes have the same bias. */
  static List<CurveBlock> of(
      int count, DoubleUnaryOperator celsiusOfTime, DoubleUnaryOperator biasOfCelsius) {
    List<CurveBlock> out = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double t = 15 + 30.0 * i;
      double c = celsiusOfTime.applyAsDouble(t);
      double rate = (celsiusOfTime.applyAsDouble(t + 1) - celsiusOfTime.applyAsDouble(t - 1)) / 2;
      double b = biasOfCelsius.applyAsDouble(c);
      out.add(new CurveBlock(t, 30, c, rate, t, new double[] {b, b, b}, 0));
    }
    return out;
  }

  /** The same as blocks of another pose, with another offset. */
  static List<CurveBlock> inPose(int pose, double offsetDps, List<CurveBlock> blocks) {
    List<CurveBlock> out = new ArrayList<>();
    for (CurveBlock b : blocks) {
      double dps = b.biasDps()[0] + offsetDps;
      out.add(
          new CurveBlock(
              b.midS(),
              b.widthS(),
              b.temperatureC(),
              b.rateCPerS(),
              b.sinceBootS(),
              new double[] {dps, dps, dps},
              pose));
    }
    return out;
  }

  /** One after the other in time. */
  static List<CurveBlock> after(List<CurveBlock> first, List<CurveBlock> then) {
    double laterS = first.get(first.size() - 1).midS() + 15 - then.get(0).midS() + 15;
    List<CurveBlock> out = new ArrayList<>(first);
    for (CurveBlock b : then) {
      out.add(
          new CurveBlock(
              b.midS() + laterS,
              b.widthS(),
              b.temperatureC(),
              b.rateCPerS(),
              b.sinceBootS() + laterS,
              b.biasDps(),
              b.segment()));
    }
    return out;
  }
}
