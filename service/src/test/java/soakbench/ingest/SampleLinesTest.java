package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import soakbench.lines.LineParser;
import soakbench.lines.Reading;
import soakbench.model.Sample;

class SampleLinesTest {
  private static final long YEAR_2000_US = 946_684_800_000_000L;
  private static final long YEAR_2100_US = 4_102_444_800_000_000L;

  @Property
  void aLineReadAgainIsTheSampleThatWasWritten(
      @ForAll @LongRange(min = YEAR_2000_US, max = YEAR_2100_US - 1) long timeUs,
      @ForAll boolean held,
      @ForAll long seed,
      @ForAll @LongRange(min = -1, max = 1L << 53) long seq,
      @ForAll @LongRange(min = -1, max = (1L << 32) - 1) long tMs) {
    Random random = new Random(seed);
    float temperatureC = any(random, 40);
    float x = any(random, 2000);
    float y = any(random, 16);
    float z = any(random, 16);
    Sample s = new Sample("a.B_c:-9", timeUs, temperatureC, held, x, y, z, z, y, z, seq, tMs);
    byte[] line = SampleLines.line(s).getBytes(StandardCharsets.UTF_8);
    assertThat(new LineParser().parse(line, 0, line.length))
        .isEqualTo(
            new Reading(
                "a.B_c:-9",
                timeUs,
                Reading.NO_TIME,
                seq,
                tMs,
                null,
                temperatureC,
                x,
                y,
                z,
                z,
                y,
                z,
                held));
  }

  /** Any float of all there are, up to this size; very small ones are as likely as others. */
  private static float any(Random random, float largest) {
    float value = Float.intBitsToFloat(random.nextInt());
    return Math.abs(value) <= largest ? value : any(random, largest);
  }
}
