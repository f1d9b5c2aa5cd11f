package soakbench.live.calibration;

import java.util.List;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck.Verdict;

/** Whether what people see of a soak's calibrations changed. */
final class CalibrationChange {
  private CalibrationChange() {}

  /** What of a calibration people see change; arrays in records have no equality of their own. */
  private record Shown(
      long atUs, Calibration.Status status, Long restSecond, Verdict verdict, String reason) {
    static Shown of(Calibration c) {
      return new Shown(
          c.atUs(),
          c.status(),
          c.handling() == null ? null : c.handling().restSecond(),
          c.check() == null ? null : c.check().result().verdict(),
          c.check() == null ? c.checkReason() : c.check().result().reason());
    }
  }

  static boolean same(List<Calibration> before, List<Calibration> now) {
    return shown(before).equals(shown(now));
  }

  private static List<Shown> shown(List<Calibration> calibrations) {
    return calibrations.stream().map(Shown::of).toList();
  }
}
