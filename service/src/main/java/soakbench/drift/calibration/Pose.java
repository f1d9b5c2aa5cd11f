package soakbench.drift.calibration;

import java.util.List;
import soakbench.model.Bin;

/**
 * Mean over still seconds on one face.
 *
 * @param midS its middle, seconds since 1970
 * @param seconds how many seconds it is of
 * @param biasDps mean rates, deg/s, x y z
 * @param gravityG mean specific force, g, x y z; null without an accelerometer
 * @param temperatureC mean temperature, degC; NaN where none was read
 */
record Pose(double midS, int seconds, double[] biasDps, double[] gravityG, double temperatureC) {

  static Pose of(List<Bin> still) {
    double[] bias = new double[3];
    double[] gravity = new double[3];
    for (int i = 0; i < 3; i++) {
      int axis = i;
      bias[i] = still.stream().mapToDouble(b -> b.gyroDps()[axis].mean()).average().orElseThrow();
      gravity[i] = mean(still.stream().map(b -> b.accelG()[axis]).toList());
    }
    double first = still.get(0).second();
    return new Pose(
        (first + still.get(still.size() - 1).second() + 1) / 2,
        still.size(),
        bias,
        Double.isNaN(gravity[0] + gravity[1] + gravity[2]) ? null : gravity,
        mean(still.stream().map(Bin::temperatureC).toList()));
  }

  private static double mean(List<Bin.Channel> read) {
    return read.stream()
        .filter(c -> c.count() > 0)
        .mapToDouble(Bin.Channel::mean)
        .average()
        .orElse(Double.NaN);
  }
}
