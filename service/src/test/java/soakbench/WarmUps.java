package soakbench;

import java.time.Instant;
import java.util.Random;

/** Lines of a tracker that warms up towards a plateau, lying still, with white noise. */
public final class WarmUps {
  private static final int LINES_PER_S = 10;
  private static final double TAU_S = 240;
  private static final double TEMPCO_DPS_PER_C = 0.004;
  private static final double NOISE_DPS = 0.01;
  private static final double HAND_DPS = 20;
  private static final double OFFSET_DPS = 0.1;
  private static final double NOISE_C = 0.01;

  private WarmUps() {}

  /**
   * JSON Lines for {@code POST /api/samples}.
   *
   * @param start of the soak
   * @param fromS first second since the start
   * @param toS first second that is not written any more
   */
  public static String lines(
      String id, Instant start, int fromS, int toS, double startC, double plateauC) {
    return lines(id, start, fromS, toS, startC, plateauC, NOISE_DPS, 0);
  }

  /** The same of a tracker in somebody's hand. */
  static String moved(
      String id, Instant start, int fromS, int toS, double startC, double plateauC) {
    return lines(id, start, fromS, toS, startC, plateauC, HAND_DPS, 0);
  }

  /** The same of a tracker that reads otherwise than before it was moved. */
  static String offset(
      String id, Instant start, int fromS, int toS, double startC, double plateauC) {
    return lines(id, start, fromS, toS, startC, plateauC, NOISE_DPS, OFFSET_DPS);
  }

  private static String lines(
      String id,
      Instant start,
      int fromS,
      int toS,
      double startC,
      double plateauC,
      double sdDps,
      double offsetDps) {
    StringBuilder out = new StringBuilder();
    Random noise = new Random(31L * id.hashCode() + fromS);
    for (int i = fromS * LINES_PER_S; i < toS * LINES_PER_S; i++) {
      double tS = (double) i / LINES_PER_S;
      double warmC = plateauC + (startC - plateauC) * Math.exp(-tS / TAU_S);
      Instant time = start.plusMillis(Math.round(1000 * tS));
      out.append(line(id, time, warmC, noise, sdDps, offsetDps)).append('\n');
    }
    return out.toString();
  }

  private static String line(
      String id, Instant time, double warmC, Random noise, double sdDps, double offsetDps) {
    double bias = offsetDps + TEMPCO_DPS_PER_C * (warmC - 25);
    StringBuilder out = new StringBuilder(130);
    out.append("{\"id\":\"").append(id).append("\",\"time\":\"").append(time);
    FixedPoint.append(out.append("\",\"temp_c\":"), warmC + NOISE_C * noise.nextGaussian(), 3);
    FixedPoint.append(out.append(",\"gyro_dps\":["), bias + sdDps * noise.nextGaussian(), 5);
    FixedPoint.append(out.append(','), -bias + sdDps * noise.nextGaussian(), 5);
    FixedPoint.append(out.append(','), sdDps * noise.nextGaussian(), 5);
    return out.append("]}").toString();
  }
}
