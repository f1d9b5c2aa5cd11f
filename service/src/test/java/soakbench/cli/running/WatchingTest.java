package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.cli.Inputs;
import soakbench.cli.Inputs.Input;

/**
 * Heat is seen whatever the clocks say: trackers with every kind of wrong clock come in by every
 * input at the same time, and the board shows the temperature that arrived last.
 */
@Timeout(300)
class WatchingTest {
  private static final int LINES_A_SECOND = 5;
  private static final double RUN_S = 30;
  private static final double HEATS_AT_S = 16;
  private static final double COOL_C = 30;
  private static final double HOT_C = 70;
  private static final double SEEN_WITHIN_S = 5;

  /** Of what is posted with an old time it takes five seconds to know that it is of now. */
  private static final double LOOKED_AT_FROM_S = 2 * SEEN_WITHIN_S + 1;

  /** What a line says of its time when so many seconds of the run have passed; null for nothing. */
  private interface Stamps {
    String at(double elapsedS, Instant now, Random random);
  }

  private static final Map<String, Stamps> CLOCKS = clocks();

  private static Map<String, Stamps> clocks() {
    Map<String, Stamps> all = new TreeMap<>();
    all.put("right", (s, now, random) -> now.toString());
    for (int aheadS : List.of(50, 300, 1200, 10_800, 86_000)) {
      all.put(
          "ahead-" + aheadS, (s, now, random) -> now.plusSeconds(s < 10 ? aheadS : 0).toString());
    }
    all.put("behind", (s, now, random) -> now.minusSeconds(s < 10 ? 10_800 : 0).toString());
    all.put("set-back", (s, now, random) -> now.minusSeconds(s < 10 ? 0 : 10_800).toString());
    all.put(
        "unset", (s, now, random) -> Instant.parse("2000-01-01T00:00:00Z").plus(ms(s)).toString());
    all.put("unset-after", (s, now, random) -> s < 10 ? now.toString() : "1970-01-01T00:00:00Z");
    all.put(
        "one-line-of-2000",
        (s, now, random) -> s > 8 && s < 8.2 ? "2000-01-01T00:00:00Z" : now.toString());
    all.put("equal", (s, now, random) -> "2026-03-02T08:00:00Z");
    all.put("backwards", (s, now, random) -> now.minus(ms(2 * s)).toString());
    all.put(
        "jumping",
        (s, now, random) -> now.plusSeconds(random.nextInt(-100_000, 100_000)).toString());
    all.put(
        "two-clocks",
        (s, now, random) -> now.plusSeconds(random.nextBoolean() ? 20 : -7200).toString());
    all.put(
        "any-year",
        (s, now, random) ->
            "%s%04d-01-01T00:00:00Z".formatted(random.nextBoolean() ? "" : "+", year(random)));
    return all;
  }

  private static Duration ms(double seconds) {
    return Duration.of(Math.round(seconds * 1000), ChronoUnit.MILLIS);
  }

  private static int year(Random random) {
    return 1 + random.nextInt(random.nextBoolean() ? 300_000 : 3000);
  }

  private static double temperatureC(double elapsedS) {
    // Every second reads otherwise, so that what the board shows tells when it arrived.
    return (elapsedS < HEATS_AT_S ? COOL_C : HOT_C) + 0.05 * Math.floor(elapsedS);
  }

  @TempDir private Path folder;

  @Test
  void theBoardShowsWhatArrivedLastByEveryDoorAndUnderEveryClock() throws Exception {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("WatchingTest: -Dsoakbench.test.seed=" + seed);
    List<String> wrong = new ArrayList<>();
    try (Inputs inputs = new Inputs(folder)) {
      ExecutorService senders = Executors.newFixedThreadPool(Input.values().length);
      long startNs = System.nanoTime();
      List<Future<?>> sending = new ArrayList<>();
      for (Input input : Input.values()) {
        sending.add(senders.submit(() -> send(inputs, input, startNs, new Random(seed))));
      }
      for (double nextS = LOOKED_AT_FROM_S; nextS < RUN_S; nextS++) {
        LockSupport.parkNanos(startNs + Math.round(nextS * 1e9) - System.nanoTime());
        look(inputs, startNs, wrong);
      }
      for (Future<?> each : sending) {
        each.get();
      }
      alarms(inputs, wrong);
      senders.shutdown();
    }
    assertThat(wrong).isEmpty();
  }

  private static String id(Input input, String clock) {
    return input + "." + clock;
  }

  private static Void send(Inputs inputs, Input input, long startNs, Random random)
      throws Exception {
    for (int count = 0; count < RUN_S * LINES_A_SECOND; count++) {
      long dueNs = startNs + Math.round(1e9 * count / LINES_A_SECOND);
      LockSupport.parkNanos(dueNs - System.nanoTime());
      StringBuilder lines = new StringBuilder();
      double elapsedS = (System.nanoTime() - startNs) / 1e9;
      for (Map.Entry<String, Stamps> clock : CLOCKS.entrySet()) {
        String time = clock.getValue().at(elapsedS, Instant.now(), random);
        String line =
            String.format(
                Locale.ROOT,
                "{\"id\":\"%s\",\"seq\":%d,\"time\":\"%s\",\"temp_c\":%.2f,"
                    + "\"gyro_dps\":[0.31,-0.12,%.3f]}",
                id(input, clock.getKey()),
                count,
                time,
                temperatureC(elapsedS),
                0.05 + 0.002 * random.nextGaussian());
        if (input == Input.UDP) {
          inputs.send(input, line);
        } else {
          lines.append(lines.isEmpty() ? "" : "\n").append(line);
        }
      }
      if (!lines.isEmpty()) {
        inputs.send(input, lines.toString());
      }
    }
    return null;
  }

  private static void look(Inputs inputs, long startNs, List<String> wrong) {
    double askedS = (System.nanoTime() - startNs) / 1e9;
    Map<String, JsonNode> shown = new TreeMap<>();
    inputs
        .asked()
        .json("/api/readiness")
        .get("trackers")
        .forEach(t -> shown.put(t.get("tracker").asText(), t));
    double answeredS = (System.nanoTime() - startNs) / 1e9;
    for (Input input : Input.values()) {
      for (String clock : CLOCKS.keySet()) {
        String id = id(input, clock);
        JsonNode verdict = shown.get(id);
        String when = String.format(Locale.ROOT, "%s after %.1f s: ", id, answeredS);
        if (verdict == null) {
          wrong.add(when + "not shown");
          continue;
        }
        double celsius = verdict.path("temperature_c").asDouble(Double.NaN);
        double leastC = temperatureC(Math.max(0, askedS - SEEN_WITHIN_S)) - 0.051;
        if (!(celsius >= leastC && celsius <= temperatureC(answeredS) + 0.051)) {
          wrong.add(when + celsius + " degC shown, at least " + leastC + " arrived");
        }
        String state = verdict.path("state").asText();
        if (state.equals("silent")) {
          wrong.add(when + "silent though it talks");
        }
        if (askedS > HEATS_AT_S + 3 + SEEN_WITHIN_S && !state.equals("hot")) {
          wrong.add(when + state + " at " + celsius + " degC");
        }
      }
    }
  }

  private static void alarms(Inputs inputs, List<String> wrong) {
    List<String> open = new ArrayList<>();
    for (JsonNode alarm : inputs.asked().json("/api/alarms").get("alarms")) {
      if (alarm.get("until").isNull()) {
        open.add(alarm.get("kind").asText() + ":" + alarm.path("tracker").asText());
      }
    }
    for (Input input : Input.values()) {
      for (String clock : CLOCKS.keySet()) {
        if (!open.contains("hot:" + id(input, clock))) {
          wrong.add(id(input, clock) + ": no alarm of heat");
        }
      }
    }
  }
}
