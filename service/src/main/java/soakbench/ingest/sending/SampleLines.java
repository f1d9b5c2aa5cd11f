package soakbench.ingest.sending;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.zip.Deflater;
import java.util.zip.GZIPOutputStream;
import soakbench.model.Sample;

/**
 * Samples as lines for {@code POST /api/samples}, whole and exact: what is read of a line is the
 * sample that was written. Ids need no escape, by their characters.
 */
final class SampleLines {
  private static final int ABOUT_BYTES = 200;

  private SampleLines() {}

  /** The lines of all samples, each with its end, packed by gzip. */
  static byte[] packed(List<Sample> samples) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream(samples.size() * ABOUT_BYTES / 4);
    StringBuilder text = new StringBuilder(samples.size() * ABOUT_BYTES);
    samples.forEach(sample -> append(text, sample).append('\n'));
    try (GZIPOutputStream gzip = new FastGzip(bytes)) {
      gzip.write(text.toString().getBytes(StandardCharsets.US_ASCII));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return bytes.toByteArray();
  }

  /** Numbers pack badly anyway: the fastest level takes a third of the time for a tenth more. */
  private static final class FastGzip extends GZIPOutputStream {
    FastGzip(ByteArrayOutputStream out) throws IOException {
      super(out, 1 << 14);
      def.setLevel(Deflater.BEST_SPEED);
    }
  }

  /** One sample's line, without its end. */
  static String line(Sample sample) {
    return append(new StringBuilder(ABOUT_BYTES), sample).toString();
  }

  private static StringBuilder append(StringBuilder to, Sample s) {
    to.append("{\"id\":\"").append(s.tracker());
    to.append("\",\"time\":\"").append(Instant.EPOCH.plus(s.timeUs(), ChronoUnit.MICROS));
    to.append("\",\"temp_held\":").append(s.temperatureHeld());
    if (s.seq() >= 0) {
      to.append(",\"seq\":").append(s.seq());
    }
    if (s.tMs() >= 0) {
      to.append(",\"t_ms\":").append(s.tMs());
    }
    if (s.hasTemperature()) {
      to.append(",\"temp_c\":").append(s.temperatureC());
    }
    if (s.hasRates()) {
      axes(to, ",\"gyro_dps\":[", s.gxDps(), s.gyDps(), s.gzDps());
    }
    if (s.hasAcceleration()) {
      axes(to, ",\"accel_g\":[", s.axG(), s.ayG(), s.azG());
    }
    return to.append('}');
  }

  private static void axes(StringBuilder to, String name, float x, float y, float z) {
    to.append(name).append(x).append(',').append(y).append(',').append(z).append(']');
  }
}
