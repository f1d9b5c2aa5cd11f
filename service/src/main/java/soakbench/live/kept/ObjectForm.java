package soakbench.live.kept;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.ObjectInputFilter;
import java.io.ObjectInputStream;
import java.io.ObjectOutputStream;
import java.io.OutputStream;
import java.io.Serializable;
import java.util.Map;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.InflaterInputStream;

/**
 * Objects, with all that they hold, as compressed bytes; but for what lives on outside of them,
 * which they are given again. Of such bytes only classes of this program are made, and a few of
 * Java's.
 *
 * @param outside what lives on, by the type that it is known as
 */
public record ObjectForm(Map<Class<?>, Object> outside) {
  /** The judge of a soak of ten hours has 300,000, of a week some two million. */
  private static final int MOST_BYTES = 20_000_000;

  private static final ObjectInputFilter ONLY =
      ObjectInputFilter.Config.createFilter(
          "maxdepth=50;maxarray=%1$d;maxbytes=%1$d;soakbench.**;java.lang.*;java.util.*;!*"
              .formatted(MOST_BYTES));

  /** What stands for something that lives on outside. */
  private record Outside(String type) implements Serializable {}

  /**
   * An object's bytes.
   *
   * @throws IOException if something of it can't be written
   */
  public byte[] written(Serializable whole) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 17);
    Deflater quick = new Deflater(Deflater.BEST_SPEED);
    try (ObjectOutputStream out = new Writing(new DeflaterOutputStream(bytes, quick, 1 << 14))) {
      out.writeObject(whole);
    } finally {
      quick.end();
    }
    return bytes.toByteArray();
  }

  /**
   * The object that was written.
   *
   * @throws IOException if the bytes are damaged, or of another program
   */
  public <T extends Serializable> T read(byte[] bytes, Class<T> type) throws IOException {
    try (ObjectInputStream in = new Reading(inflated(bytes))) {
      return type.cast(in.readObject());
    } catch (ClassNotFoundException | RuntimeException damaged) {
      throw new IOException(damaged);
    }
  }

  /** All of it at once: only at its end its checksum is looked at. */
  private static byte[] inflated(byte[] bytes) throws IOException {
    try (InputStream in = new InflaterInputStream(new ByteArrayInputStream(bytes))) {
      return in.readNBytes(MOST_BYTES);
    }
  }

  private final class Writing extends ObjectOutputStream {
    Writing(OutputStream to) throws IOException {
      super(to);
      enableReplaceObject(true);
    }

    @Override
    protected Object replaceObject(Object part) {
      for (Class<?> type : outside.keySet()) {
        if (type.isInstance(part)) {
          return new Outside(type.getName());
        }
      }
      return part;
    }
  }

  private final class Reading extends ObjectInputStream {
    Reading(byte[] bytes) throws IOException {
      super(new ByteArrayInputStream(bytes));
      setObjectInputFilter(ONLY);
      enableResolveObject(true);
    }

    @Override
    protected Object resolveObject(Object part) {
      return part instanceof Outside stands ? outside(stands.type()) : part;
    }

    private Object outside(String type) {
      return outside.entrySet().stream()
          .filter(one -> one.getKey().getName().equals(type))
          .map(Map.Entry::getValue)
          .findFirst()
          .orElseThrow(() -> new IllegalArgumentException("nothing stands for " + type));
    }
  }
}
