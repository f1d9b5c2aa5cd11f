package soakbench.api;

import java.util.Locale;
import java.util.Random;
import soakbench.FixedPoint;
import soakbench.api.http.Times;

/** Lines of a simulated tracker that lies still and warms up, for tests. */
public final class Lines {
  private Lines() {}

  /** One line of JSON. */
  public static String json(String id, long timeUs, double temperatureC, double xDps) {
    return String.format(
        Locale.ROOT,
        "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":%.2f,\"gyro_dps\":[%.4f,-0.12,0.05],"
            + "\"accel_g\":[0.01,0.0,1.0]}\n",
        id,
        Times.text(timeUs),
        temperatureC,
        xDps);
  }

  /** Lines a tenth of a second apart, all at one temperature. */
  public static String steady(String id, long startUs, int lines) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < lines; i++) {
      text.append(json(id, startUs + i * 100_000L, 24.5, 0.3 + 0.001 * (i % 7)));
    }
    return text.toString();
  }

  /**
   * A warm-up from 23 towards 31 degC with a time constant of 400 s, ten lines a second; the bias
   * of x moves by 0.02 deg/s per degC, and white noise lies on each axis.
   */
  public static String warmUp(String id, long startUs, int seconds) {
    return warmUp(id, startUs, seconds, 10);
  }

  /** The same with another count of lines a second, that divides a million. */
  public static String warmUp(String id, long startUs, int seconds, int linesPerS) {
    Random noise = new Random(20260301);
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < seconds * linesPerS; i++) {
      double temperatureC = 31 - 8 * Math.exp(-i / (double) linesPerS / 400);
      text.append("{\"id\":\"").append(id).append("\",\"time\":\"");
      text.append(Times.text(startUs + i * (1_000_000L / linesPerS)));
      number(text, "\",\"temp_c\":", 2, temperatureC + 0.02 * noise.nextGaussian());
      double xDps = 0.3 + 0.02 * (temperatureC - 30) + 0.03 * noise.nextGaussian();
      number(text, ",\"gyro_dps\":[", 4, xDps);
      number(text, ",", 4, -0.1 + 0.03 * noise.nextGaussian());
      number(text, ",", 4, 0.05 + 0.03 * noise.nextGaussian());
      number(text, "],\"accel_g\":[0.001,0.002,", 4, 1 + 0.001 * noise.nextGaussian());
      text.append("]}\n");
    }
    return text.toString();
  }

  private static void number(StringBuilder text, String before, int places, double value) {
    FixedPoint.append(text.append(before), value, places);
  }
}
