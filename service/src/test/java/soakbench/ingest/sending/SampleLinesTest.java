package soakbench.ingest.sending;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.Random;
import org.junit.jupiter.api.Test;
import soakbench.Drawn;
import soakbench.lines.LineParser;
import soakbench.lines.Reading;
import soakbench.model.Sample;

class SampleLinesTest {
  private static final long YEAR_2000_US = 946_684_800_000_000L;
  private static final long YEAR_2100_US = 4_102_444_800_000_000L;

  @Test
  void aLineReadAgainIsTheSampleThatWasWritten() {
    Drawn.cases(1000, SampleLinesTest::isReadAgain);
  }

  private static void isReadAgain(Drawn drawn) {
    long timeUs = drawn.from(YEAR_2000_US, YEAR_2100_US - 1);
    boolean held = drawn.either();
    long seq = drawn.from(-1, 1L << 53);
    long tMs = drawn.from(-1, (1L << 32) - 1);
    Random random = drawn.random();
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
                new Reading.Stamps(timeUs, Reading.NO_TIME, seq, tMs, null),
                new Reading.Channels(temperatureC, x, y, z, z, y, z),
                held));
  }

  /** Any float of all there are, up to this size; very small ones are as likely as others. */
  private static float any(Random random, float largest) {
    float value = Float.intBitsToFloat(random.nextInt());
    return Math.abs(value) <= largest ? value : any(random, largest);
  }
}
