package soakbench.thermal.cooling;

import java.io.Serializable;
import java.util.List;

/**
 * What became of a fall.
 *
 * @param cooling the record, or null
 * @param seconds from the level stretch to the record's end, by time
 * @param after seconds heard after the record's end until that was noticed, by time
 * @param reason why there is no record; null where there is one
 */
public record CoolingFinding(
    Cooling cooling, List<CoolingSecond> seconds, List<CoolingSecond> after, String reason)
    implements Serializable {
  static CoolingFinding none(String reason) {
    return new CoolingFinding(null, List.of(), List.of(), reason);
  }
}
