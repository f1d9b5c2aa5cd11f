package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SpectralLineTest {
  private static double[] withLine(double[] noise, double amplitude, double frequency) {
    double[] out = noise.clone();
    for (int i = 0; i < out.length; i++) {
      out[i] += amplitude * Math.sin(2 * Math.PI * frequency * i);
    }
    return out;
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.021, 0.1, 0.2345, 0.437})
  void aLineIsFoundWhereItIs(double frequency) {
    double[] readings = withLine(Noises.white(2500, 0.01, 8), 0.008, frequency);
    SpectralLine line = SpectralLine.in(readings).orElseThrow();
    assertThat(line.frequencyPerReading()).isEqualTo(frequency, Offset.offset(1.0 / 2048));
    // a^2 / 2 of it and s^2.
    assertThat(line.share()).isEqualTo(0.32 / 1.32, Offset.offset(0.06));
  }

  @Test
  void noiseOfAnyColourAndADriftHaveNone() {
    int found = 0;
    for (int run = 0; run < 1000; run++) {
      double[] white = Noises.white(1024, 0.01, 90_000 + run);
      // A walk, because flicker that is made of sines is made of lines.
      double[] coloured = Noises.white(1024, 0.001, 91_000 + run);
      for (int i = 1; i < coloured.length; i++) {
        coloured[i] += coloured[i - 1];
      }
      coloured = Noises.sum(white, coloured);
      for (int i = 0; i < coloured.length; i++) {
        coloured[i] += 0.02 * Math.exp(-i / 300.0);
      }
      found += SpectralLine.in(white).isPresent() ? 1 : 0;
      found += SpectralLine.in(coloured).isPresent() ? 1 : 0;
    }
    System.out.printf("lines found in 2000 records without one: %d%n", found);
    assertThat(found).isLessThanOrEqualTo(4);
  }

  @Test
  void tooFewOrUnchangingReadingsHaveNone() {
    assertThat(SpectralLine.in(new double[63])).isEqualTo(Optional.empty());
    assertThat(SpectralLine.in(new double[0])).isEmpty();
    assertThat(SpectralLine.in(new double[256])).isEmpty();
  }
}
