package soakbench.cli;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;

/** Lines of simulated trackers that soak in a steady room. */
final class SimulatedLines {
  static final Instant START = Instant.parse("2026-03-02T08:00:00Z");

  private SimulatedLines() {}

  /** All lines of one run, each with its line end. */
  static List<byte[]> of(String id, long seed, double seconds, double rateHz) throws IOException {
    SimulateOptions options =
        SimulateOptions.usual(seed)
            .withMix(Mix.CLEAN)
            .lasting(seconds)
            .printing(rateHz)
            .named(id)
            .withAccelerometer(true)
            .startingAt(START);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    SimulateRun.write(options, out, null);
    return out.toString(StandardCharsets.UTF_8)
        .lines()
        .map(line -> (line + "\n").getBytes(StandardCharsets.UTF_8))
        .toList();
  }

  static byte[] join(List<byte[]> lines) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    lines.forEach(out::writeBytes);
    return out.toByteArray();
  }
}
