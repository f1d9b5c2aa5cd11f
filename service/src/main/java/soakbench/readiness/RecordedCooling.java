package soakbench.readiness;

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
public record RecordedCooling(Cooling cooling, List<FastResponse> response) {

  /**
   * Reads the response off a fall.
   *
   * @param models the axes' bias curves; null while unknown
   */
  static RecordedCooling of(CoolingFinding finding, BiasModel[] models) {
    Cooling cooling = finding.cooling();
    if (models == null) {
      return new RecordedCooling(cooling, null);
    }
    List<FastResponse> response = new ArrayList<>();
    for (int axis = 0; axis < 3; axis++) {
      response.add(FastResponse.of(seconds(finding, axis), cooling.startC(), models[axis]));
    }
    return new RecordedCooling(cooling, List.copyOf(response));
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
