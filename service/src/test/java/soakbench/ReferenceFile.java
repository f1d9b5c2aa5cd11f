package soakbench;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * A published set of figures: lines that begin with {@code #} say where it comes from, then one
 * header line, then the data. Published answers stand beside it as quantity, value, stddev.
 */
public final class ReferenceFile {
  private final List<String> columns;
  private final List<String[]> rows;

  private ReferenceFile(List<String> columns, List<String[]> rows) {
    this.columns = columns;
    this.rows = rows;
  }

  /** The data of a set, or any other table of the folder. */
  public static ReferenceFile of(String name) {
    List<String> lines =
        lines(name + ".csv").stream().filter(l -> !l.startsWith("#") && !l.isBlank()).toList();
    List<String[]> rows = lines.stream().skip(1).map(l -> l.split(",", -1)).toList();
    return new ReferenceFile(List.of(lines.get(0).split(",")), rows);
  }

  /** The published answers of a set. */
  public static Certified certified(String name) {
    ReferenceFile file = of(name + ".certified");
    Map<String, String[]> byQuantity =
        file.rows.stream().collect(Collectors.toMap(r -> r[0], r -> r));
    return new Certified(name, byQuantity);
  }

  /** One column as numbers. */
  public double[] column(String name) {
    int index = columns.indexOf(name);
    return rows.stream().mapToDouble(r -> Double.parseDouble(r[index])).toArray();
  }

  /** One column, of the rows where another column holds this number. */
  public double[] columnWhere(String name, String other, double value) {
    double[] all = column(name);
    double[] key = column(other);
    return IntStream.range(0, all.length)
        .filter(i -> key[i] == value)
        .mapToDouble(i -> all[i])
        .toArray();
  }

  /** Half a unit of the last digit that is printed. */
  public double roundingOf(String name, int row) {
    String printed = rows.get(row)[columns.indexOf(name)];
    int point = printed.indexOf('.');
    return 0.5 * Math.pow(10, point < 0 ? 0 : point + 1 - printed.length());
  }

  public int size() {
    return rows.size();
  }

  private static List<String> lines(String file) {
    try (InputStream in = ReferenceFile.class.getResourceAsStream("/reference/" + file)) {
      return new BufferedReader(new InputStreamReader(in, UTF_8)).lines().toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Published answers by the name of the quantity. */
  public record Certified(String name, Map<String, String[]> byQuantity) {

    public double value(String quantity) {
      return Double.parseDouble(printed(quantity));
    }

    /** The value as it is printed, for a comparison in all printed digits. */
    public String printed(String quantity) {
      return row(quantity)[1];
    }

    public double stddev(String quantity) {
      return Double.parseDouble(row(quantity)[2]);
    }

    private String[] row(String quantity) {
      String[] row = byQuantity.get(quantity);
      if (row == null) {
        throw new IllegalArgumentException(name + " publishes no " + quantity);
      }
      return row;
    }
  }
}
