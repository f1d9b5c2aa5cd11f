package soakbench.api.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.http.Times;

/** A bias curve as C, CSV and JSON, and what may be asked of it. */
@ExtendWith(Service.Running.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CurveExportTest {
  private static final int SECONDS = 1800;

  /** Prints the table, then the function at places between the table's. */
  private static final String PROGRAM =
      """
      #include <stdio.h>
      #include "bias_curve.h"

      int main(void)
      {
        int axis, i;
        for (axis = 0; axis < 3; axis++) {
          for (i = 0; i < SOAKBENCH_POINTS; i++) {
            printf("%.9g\\n", (double)soakbench_bias_dps[axis][i]);
          }
          for (i = 0; i < 4 * SOAKBENCH_POINTS; i++) {
            double c = SOAKBENCH_LOW_C - 1.0 + i * (SOAKBENCH_STEP_C / 3.0);
            printf("%.12g %.12g\\n", c, soakbench_bias_dps_at(axis, c));
          }
        }
        printf("%.9g %.9g\\n", SOAKBENCH_WORST_STANDARD_ERROR_DPS, SOAKBENCH_LIMITS_SE);
        printf("%.9g\\n", (double)soakbench_standard_error_dps[1][7]);
        printf("%.12g %.12g\\n", SOAKBENCH_WORST_ERROR_DPS, SOAKBENCH_REFERENCE_C);
        return soakbench_axis_known[0] && soakbench_coefficients[0][0] > 0.0 ? 0 : 1;
      }
      """;

  @TempDir Path folder;
  private String soak;

  @BeforeAll
  void oneSoak(Service service) {
    long startUs = Times.parse("2026-02-27T08:00:00Z").orElseThrow();
    String lines = Lines.warmUp("C-export", startUs, SECONDS);
    service.http.send("POST", "/api/samples", "application/x-ndjson", lines);
    soak =
        service
            .http
            .json("/api/soaks?tracker=C-export", "SoakList")
            .get("soaks")
            .get(0)
            .get("soak")
            .asText();
  }

  private String at(String rest) {
    return "/api/soaks/" + soak + rest;
  }

  @Test
  void theHeaderCompilesWithoutAWarningAndItsTableReadsBack(Service service) throws Exception {
    assumeTrue(compiler(), "gcc is not there: the header is not compiled");
    var answer = service.http.get(at("/bias-curve.h?points=33"));
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type").orElseThrow()).startsWith("text/x-c");
    Files.writeString(folder.resolve("bias_curve.h"), answer.body());
    Files.writeString(folder.resolve("print.c"), PROGRAM);
    String said =
        run(
            "gcc",
            "-Wall",
            "-Wextra",
            "-Werror",
            "-pedantic",
            "-std=c99",
            "print.c",
            "-o",
            "print");
    assertThat(said).isEmpty();
    List<String> printed = run("./print").lines().toList();
    JsonNode curve = service.http.json(at("/bias-curve?points=33"), "BiasCurve");
    String[] last = printed.get(printed.size() - 1).split(" ");
    double worst = Double.parseDouble(last[0]);
    assertThat(Double.parseDouble(last[1]))
        .isEqualTo(curve.get("reference_c").asDouble(), within(1e-9));
    double told = 0;
    for (int axis = 0; axis < 3; axis++) {
      JsonNode known = curve.get("axes").get(axis);
      told = Math.max(told, known.get("interpolation_error_dps").asDouble());
      List<String> table = printed.subList(axis * 33 * 5, axis * 33 * 5 + 33);
      for (int i = 0; i < 33; i++) {
        double bias = known.get("bands").get(i).get("bias_dps").asDouble();
        assertThat(Double.parseDouble(table.get(i))).isEqualTo(bias, within(1e-7));
      }
      interpolates(curve, known, printed.subList(axis * 165 + 33, axis * 165 + 165), worst);
    }
    assertThat(worst).isEqualTo(told, within(1e-12)).isLessThan(1e-3);
    JsonNode y = curve.get("axes").get(1).get("bands").get(7);
    assertThat(Double.parseDouble(printed.get(printed.size() - 2)))
        .isEqualTo(y.get("standard_error_dps").asDouble(), within(1e-9));
    String[] errors = printed.get(printed.size() - 3).split(" ");
    double worstSe = 0;
    for (JsonNode axis : curve.get("axes")) {
      for (JsonNode point : axis.get("bands")) {
        worstSe = Math.max(worstSe, point.get("standard_error_dps").asDouble());
      }
    }
    assertThat(Double.parseDouble(errors[0])).isEqualTo(worstSe, within(1e-9));
    assertThat(Double.parseDouble(errors[1])).isBetween(1.95, 2.6);
  }

  /** Between two values at most the stated error off the coefficients, beyond the ends the ends. */
  private static void interpolates(
      JsonNode curve, JsonNode axis, List<String> printed, double worst) {
    double low = curve.get("range_c").get(0).asDouble();
    double high = curve.get("range_c").get(1).asDouble();
    for (String line : printed) {
      double c = Double.parseDouble(line.split(" ")[0]);
      double u = Math.max(low, Math.min(high, c)) - curve.get("reference_c").asDouble();
      double bias = 0;
      for (int k = axis.get("coefficients").size() - 1; k >= 0; k--) {
        bias = bias * u + axis.get("coefficients").get(k).asDouble();
      }
      assertThat(Double.parseDouble(line.split(" ")[1])).isEqualTo(bias, within(worst + 1e-9));
    }
  }

  private static boolean compiler() throws InterruptedException {
    try {
      return new ProcessBuilder("gcc", "--version").start().waitFor() == 0;
    } catch (IOException none) {
      return false;
    }
  }

  private String run(String... command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command).directory(folder.toFile()).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor(2, TimeUnit.MINUTES)).isTrue();
    assertThat(process.exitValue()).as(said).isZero();
    return said;
  }

  @Test
  void theTableHasARowForEachTemperatureOfEachAxis(Service service) {
    String csv = Http.csv(service.http.get(at("/bias-curve.csv?points=5&low_c=20")));
    String[] lines = csv.split("\r\n");
    assertThat(lines).hasSize(1 + 3 * 5);
    assertThat(lines[0])
        .isEqualTo(
            "axis,temperature_c,bias_dps,confidence_low_dps,confidence_high_dps,"
                + "prediction_low_dps,prediction_high_dps,extrapolated,interpolation_error_dps,"
                + "standard_error_dps");
    assertThat(lines[1]).startsWith("x,20.00000,").contains(",true,");
    assertThat(lines[5]).startsWith("x,3").contains(",false,");
    String german = Http.csv(service.http.get(at("/bias-curve.csv?decimal=comma")));
    assertThat(german).contains("axis;temperature_c");
  }

  @Test
  void anOrderCanBeAskedFor(Service service) {
    JsonNode curve = service.http.json(at("/bias-curve?order=4"), "BiasCurve");
    assertThat(curve.get("axes").get(0).get("coefficients")).hasSize(6);
    assertThat(curve.get("axes").get(0).get("order").asInt()).isEqualTo(4);
  }

  @Test
  void parametersThatMakeNoSenseAreNamed(Service service) {
    for (String query :
        List.of(
            "order=0",
            "order=7",
            "points=1",
            "points=5000",
            "low_c=warm",
            "low_c=32&high_c=30",
            "high_c=400",
            "second_soak=none@1")) {
      JsonNode problem =
          Http.problem(service.http.get(at("/bias-curve?" + query)), 400, "invalid-request");
      assertThat(problem.get("problems").get(0).get("field").asText())
          .isEqualTo(query.substring(0, query.indexOf('=')));
    }
    Http.problem(service.http.get(at("/heading?from_c=x")), 400, "invalid-request");
    Http.problem(service.http.get(at("/heading?profile=none@1")), 400, "invalid-request");
    Http.problem(service.http.get(at("/heading?use_c=30&profile=" + soak)), 400, "invalid-request");
  }

  @Test
  void theHeadingGoesFromAChosenTemperatureToAnotherOrAlongAProfile(Service service) {
    JsonNode chosen = service.http.json(at("/heading?from_c=26&use_c=30"), "Heading");
    JsonNode rate = chosen.get("deg_per_min");
    // 0.02 deg/s per degC over four degrees.
    assertThat(rate.get("value").asDouble()).isEqualTo(4.8, within(0.5));
    assertThat(rate.get("low").asDouble()).isLessThan(4.8);
    assertThat(rate.get("high").asDouble()).isGreaterThan(4.8);
    assertThat(chosen.get("minutes_to_5_deg").get("value").asDouble())
        .isEqualTo(5 / 4.8, within(0.15));
    assertThat(chosen.get("calibrated_c").asDouble()).isEqualTo(26);
    JsonNode profile = service.http.json(at("/heading?from_c=26&profile=" + soak), "Heading");
    assertThat(profile.get("profile").asText()).isEqualTo(soak);
    assertThat(profile.get("use_c").isNull()).isTrue();
    // It warms from 23 towards 31, so on the average it is near 29.2.
    assertThat(profile.get("deg_per_min").get("value").asDouble()).isEqualTo(3.8, within(0.8));
    JsonNode outside = service.http.json(at("/heading?from_c=26&use_c=45"), "Heading");
    assertThat(outside.get("deg_per_min").get("value").isNull()).isTrue();
    assertThat(outside.get("deg_per_min").get("reason").asText())
        .contains("the use temperature 45.0 degC is outside");
    JsonNode cold = service.http.json(at("/heading?from_c=5"), "Heading");
    assertThat(cold.get("deg_per_min").get("reason").asText())
        .contains("the calibration's temperature 5.0 degC is outside");
  }

  @Test
  void withoutACurveThereIsNoHeader(Service service) {
    long startUs = Times.parse("2026-02-26T08:00:00Z").orElseThrow();
    service.http.send(
        "POST", "/api/samples", "application/x-ndjson", Lines.steady("C-flat", startUs, 600));
    String flat =
        service
            .http
            .json("/api/soaks?tracker=C-flat", "SoakList")
            .get("soaks")
            .get(0)
            .get("soak")
            .asText();
    JsonNode problem =
        Http.problem(service.http.get("/api/soaks/" + flat + "/bias-curve.h"), 409, "no-curve");
    assertThat(problem.get("detail").asText()).contains("There is no curve of C-flat to export");
    assertThat(Http.csv(service.http.get("/api/soaks/" + flat + "/bias-curve.csv")).split("\r\n"))
        .hasSize(1);
  }
}
