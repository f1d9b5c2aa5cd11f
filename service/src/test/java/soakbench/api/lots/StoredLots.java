package soakbench.api.lots;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import soakbench.api.Http;
import soakbench.api.Service;
import soakbench.drift.curve.RepeatedErrors;
import soakbench.lots.AxisFigures;
import soakbench.lots.SoakFigures;
import soakbench.model.Estimate;
import soakbench.store.connection.Query;

/**
 * Lots of invented units, stored as if their soaks had been recorded and derived: coefficients of
 * both signs about zero with a spread of the lot's own, measured with errors that are known.
 */
public final class StoredLots {
  static final double ERROR_DPS_PER_C = 0.0015;

  private static final long DAY_S = 86_400;
  private static final double RATE_HZ = 50;
  private static final JsonMapper MAPPER = new JsonMapper();

  private final List<String> roster = new ArrayList<>(List.of("id,name,lot,rack,power"));
  private final List<Stored> soaks = new ArrayList<>();
  private final Random random;
  private double errorDpsPerC = ERROR_DPS_PER_C;

  public StoredLots(long seed) {
    random = new Random(seed);
  }

  /**
   * A lot to come.
   *
   * @param spread standard deviation of its units' coefficients, deg/s per degC
   * @param days how many days before the service's first its soaks begin, in turns
   */
  public StoredLots lot(
      String name, int units, double spread, String rack, int soaksOfEach, int... days) {
    for (int i = 0; i < units; i++) {
      double[] tempco = {gauss(spread), gauss(spread), gauss(spread)};
      unit(name, null, rack, tempco, 0.3 * Math.exp(gauss(0.1)), RATE_HZ, soaksOfEach, i, days);
    }
    return this;
  }

  /** One more unit of a lot, with this coefficient of x. */
  StoredLots odd(String lot, String name, double tempcoX) {
    unit(lot, name, "window", new double[] {tempcoX, 0.001, 0.001}, 0.3, RATE_HZ, 2, 0, 1, 8);
    return this;
  }

  /** A lot whose units' readings are all the same. */
  StoredLots alike(String name, int units) {
    double error = errorDpsPerC;
    errorDpsPerC = 0;
    for (int i = 0; i < units; i++) {
      unit(name, null, "window", new double[] {0.01, 0.01, 0.01}, 0.3, RATE_HZ, 1, 0, 1);
    }
    errorDpsPerC = error;
    return this;
  }

  /** A lot whose streams come at another rate. */
  StoredLots quick(String name, int units, double rateHz) {
    for (int i = 0; i < units; i++) {
      double[] tempco = {gauss(0.009), gauss(0.009), gauss(0.009)};
      unit(name, null, "window", tempco, 0.3 * Math.exp(gauss(0.1)), rateHz, 1, i, 1, 8);
    }
    return this;
  }

  private void unit(
      String lot,
      String name,
      String rack,
      double[] tempco,
      double noise,
      double rateHz,
      int soaksOfEach,
      int turn,
      int... days) {
    String id = "%s-%04d".formatted(lot.replaceAll("[^A-Za-z0-9]", ""), roster.size());
    roster.add("%s,%s,\"%s\",%s,battery".formatted(id, name == null ? id : name, lot, rack));
    for (int soak = 0; soak < soaksOfEach; soak++) {
      long beforeS = days[(turn + soak) % days.length] * DAY_S + 3600L * soak;
      soaks.add(new Stored(id, beforeS, content(tempco, noise, rateHz)));
    }
  }

  private record Stored(String tracker, long beforeS, String content) {}

  private double gauss(double sd) {
    return sd * random.nextGaussian();
  }

  private String content(double[] tempco, double noise, double rateHz) {
    Estimate none = Estimate.unknown("not looked at");
    List<AxisFigures> axes = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      double slope = tempco[i] + gauss(errorDpsPerC);
      double variance = ERROR_DPS_PER_C * ERROR_DPS_PER_C;
      axes.add(
          new AxisFigures(
              "xyz".substring(i, i + 1),
              Estimate.of(0.1, 0.001, 1.96),
              Estimate.of(slope, ERROR_DPS_PER_C, 1.96),
              Estimate.of(Math.abs(slope) * 7, 7 * ERROR_DPS_PER_C, 1.96),
              none,
              0.002,
              Estimate.of(noise, 0.01, 1.96),
              none,
              none,
              new double[] {0.1, slope, 0},
              new double[][] {{1e-6, 0, 0}, {0, variance, 0}, {0, 0, 0}},
              1.96,
              new RepeatedErrors(new double[3], new double[3])));
    }
    SoakFigures figures =
        new SoakFigures(
            31.0,
            24.0,
            32.0,
            31,
            Estimate.of(31.5 + gauss(0.1), 0.05, 1.96),
            Estimate.of(430 + gauss(20), 8, 1.96),
            false,
            rateHz,
            axes,
            none,
            none,
            new double[] {0, 0, 1});
    try {
      return MAPPER.writeValueAsString(figures);
    } catch (JsonProcessingException e) {
      throw new AssertionError(e);
    }
  }

  /** Lists the units and stores their soaks. */
  void store(Http http, Connection connection) throws SQLException {
    http.send("PUT", "/api/trackers", "text/csv", String.join("\r\n", roster));
    for (Stored soak : soaks) {
      long startS = Service.START_US / 1_000_000L - soak.beforeS;
      String id = soak.tracker + "@" + startS;
      Query.change(
          connection,
          "INSERT INTO soak (id, tracker, start_time, end_time, samples, ended) VALUES (?, ?,"
              + " to_timestamp(?), to_timestamp(?), 90000, 'taken_off')",
          id,
          soak.tracker,
          (double) startS,
          startS + 1800.0);
      Query.change(
          connection,
          "INSERT INTO derived (kind, soak, version, basis, heard, waits, content)"
              + " VALUES ('figures', ?, 1, '{}', '', false, ?::jsonb)",
          id,
          soak.content);
    }
  }
}
