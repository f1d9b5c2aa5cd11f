package soakbench.readiness;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import soakbench.drift.still.BiasModel;
import soakbench.drift.still.FastResponse;
import soakbench.thermal.cooling.Cooling;
import soakbench.thermal.cooling.CoolingFinding;
import soakbench.thermal.cooling.CoolingSecond;

/**
 * How a tracker cooled when it was uncovered, and what that did to its bias beside the curve.
 *
 * @param cooling the fall of its temperature
 * @param response of each axis, x y z; null where its bias was not known then
 */
public record RecordedCooling(Cooling cooling, List<FastResponse> response)
    implements Serializable {

  /**
   * Reads the response off a fall.
   *
   * @param models the axes' bias curves; null while unknown
   */
  static RecordedCooling of(CoolingFinding finding, BiasModel[] models) {
    return of(finding, List.of(), models);
  }

  /**
   * Reads the response off a fall and off how it warmed when it was covered again, which is as fast
   * and says as much.
   *
   * @param covered what followed the fall's record, by time, lying still; none for the fall alone
   * @param models the axes' bias curves; null while unknown
   */
  static RecordedCooling of(
      CoolingFinding finding, List<CoolingSecond> covered, BiasModel[] models) {
    Cooling cooling = finding.cooling();
    if (models == null) {
      return new RecordedCooling(cooling, null);
    }
    List<FastResponse> response = new ArrayList<>();
    for (int axis = 0; axis < 3; axis++) {
      List<FastResponse.Second> seconds = seconds(finding, axis);
      seconds.addAll(seconds(cooling, covered, axis));
      response.add(FastResponse.of(seconds, cooling.startC(), models[axis]));
    }
    return new RecordedCooling(cooling, List.copyOf(response));
  }

  private static List<FastResponse.Second> seconds(
      Cooling cooling, List<CoolingSecond> covered, int axis) {
    List<FastResponse.Second> out = new ArrayList<>();
    for (CoolingSecond s : covered) {
      if (s.biasDps() != null) {
        Slope line = Slope.near(covered, s.tS());
        double drop = cooling.startC() - line.temperatureC();
        out.add(new FastResponse.Second(s.tS(), drop, line.cPerS(), s.biasDps()[axis]));
      }
    }
    return out;
  }

  /** A straight line through the temperature at one moment, degC, and its slope, degC/s. */
  private record Slope(double temperatureC, double cPerS) {
    private static final double REACH_S = 5;

    static Slope near(List<CoolingSecond> seconds, double atS) {
      List<CoolingSecond> near =
          seconds.stream().filter(s -> Math.abs(s.tS() - atS) <= REACH_S).toList();
      double meanS = near.stream().mapToDouble(CoolingSecond::tS).average().orElse(atS);
      double meanC = near.stream().mapToDouble(CoolingSecond::temperatureC).average().orElse(0);
      double stt = 0;
      double stc = 0;
      for (CoolingSecond s : near) {
        stt += (s.tS() - meanS) * (s.tS() - meanS);
        stc += (s.tS() - meanS) * (s.temperatureC() - meanC);
      }
      double slope = stt > 0 ? stc / stt : 0;
      return new Slope(meanC + slope * (atS - meanS), slope);
    }
  }

  private static List<FastResponse.Second> seconds(CoolingFinding finding, int axis) {
    Cooling cooling = finding.cooling();
    List<FastResponse.Second> out = new ArrayList<>();
    for (CoolingSecond s : finding.seconds()) {
      double since = s.tS() - cooling.startS();
      int k = (int) Math.min(cooling.lengthS(), Math.round(since));
      // Who took the cover off may have turned it for a moment.
      if (s.biasDps() != null && !s.moved()) {
        out.add(
            new FastResponse.Second(
                s.tS(),
                k <= 0 ? 0 : cooling.dropC()[k],
                k <= 0 ? 0 : -cooling.rateCPerS()[k],
                s.biasDps()[axis]));
      }
    }
    return out;
  }
}
