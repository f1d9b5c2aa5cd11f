package soakbench.store.backup;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.PropertyNamingStrategies;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.util.List;

/**
 * What is in a backup.
 *
 * @param soakbenchBackup which form of backup it is: {@value #FORM}
 * @param program the program that wrote it; null for one that was not released
 * @param created when, RFC 3339
 * @param schema up to which migration the tables were
 * @param server what kept them, in its own words
 * @param tables in the order in which they are put back
 * @param counters of columns that the database counts up
 */
record Manifest(
    int soakbenchBackup,
    String program,
    String created,
    String schema,
    String server,
    List<Content> tables,
    List<Counter> counters) {

  /** The form that this program writes, and the newest that it reads. */
  static final int FORM = 1;

  private static final JsonMapper MAPPER =
      JsonMapper.builder()
          .propertyNamingStrategy(PropertyNamingStrategies.SNAKE_CASE)
          .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
          .enable(DeserializationFeature.FAIL_ON_MISSING_CREATOR_PROPERTIES)
          .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
          .build();

  Manifest {
    if (!schema.matches("[0-9]+(\\.[0-9]+)*")) {
      throw new IllegalArgumentException("\"" + schema + "\" is no version of a schema");
    }
    tables = List.copyOf(tables);
    counters = List.copyOf(counters);
  }

  /**
   * One table, as text: a line a row, its columns between tabs, as PostgreSQL's COPY writes it.
   *
   * @param bytes of the text
   * @param sha256 of the text, hexadecimal
   */
  record Content(String table, List<String> columns, long rows, long bytes, String sha256) {
    Content {
      columns = List.copyOf(columns);
    }
  }

  /** The number that a column counts up to next. */
  record Counter(String table, String column, long next) {}

  byte[] json() throws IOException {
    return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsBytes(this);
  }

  /** The form alone: a newer one may lack what this program looks for. */
  static int formOf(byte[] json) throws IOException {
    return MAPPER.readTree(json).path("soakbench_backup").asInt();
  }

  /**
   * @throws JsonProcessingException if it is none
   */
  static Manifest of(byte[] json) throws IOException {
    return MAPPER.readValue(json, Manifest.class);
  }

  /** Uncompressed. */
  long bytes() {
    return tables.stream().mapToLong(Content::bytes).sum();
  }

  long rows() {
    return tables.stream().mapToLong(Content::rows).sum();
  }

  long rowsOf(String table) {
    return tables.stream().filter(t -> t.table().equals(table)).mapToLong(Content::rows).sum();
  }
}
