package soakbench.store.chunks;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.SQLException;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.BenchSamples;
import soakbench.live.SoakStore.Unit;
import soakbench.live.SoakStore.Written;
import soakbench.model.Sample;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.connection.Schema;

/** How samples lie in compressed chunks, on a given server that has TimescaleDB. */
@Timeout(180)
class ReadingsTest {
  private static final List<String> CHANNELS =
      List.of("temperature_c", "gx_dps", "gy_dps", "gz_dps", "ax_g", "ay_g", "az_g");

  private static final String COMPRESS = "SELECT compress_chunk(c) FROM show_chunks('sample') c";

  @TempDir Path folder;
  private ChunkedServer server;

  @BeforeEach
  void take() throws SQLException {
    server = ChunkedServer.orSkip();
    server.skipWithoutCommunityLicence();
  }

  @AfterEach
  void drop() throws SQLException {
    if (server != null) {
      server.close();
    }
  }

  private static Written write(Database database, List<Sample> samples) {
    try (Unit unit = database.soakStore().begin()) {
      Written written = unit.writeSamples(samples);
      unit.commit();
      return written;
    }
  }

  private static String channels(String form) {
    return CHANNELS.stream().map(form::formatted).collect(Collectors.joining(", "));
  }

  @Test
  void samplesOfARackTakeAThirdAndAreTheSameToTheBit() throws Exception {
    try (Database database = Database.open(server.settings())) {
      List<Sample> rack = BenchSamples.of(4, 50, 80, folder);
      write(database, rack);
      server.execute("CREATE TABLE kept AS SELECT * FROM sample", COMPRESS);
      assertThat(server.one("SELECT hypertable_size('sample')") / (double) rack.size())
          .as("bytes a sample; as real over 35")
          .isLessThan(25);
      assertThat(
              server.one(
                  "SELECT count(*) FROM sample s JOIN kept k USING (tracker, time) WHERE true"
                      + CHANNELS.stream()
                          .map(" AND float4send(s.%1$s) = float4send(k.%1$s)"::formatted)
                          .collect(Collectors.joining())))
          .isEqualTo(rack.size());
      assertThat(write(database, rack)).isEqualTo(new Written(List.of(), rack.size(), 0));
    }
  }

  /** Undoes what gives channels another type, as it was before there was that. */
  private void makeReal() throws SQLException {
    server.execute(
        "ALTER TABLE sample SET (timescaledb.enable_columnstore = false)",
        "ALTER TABLE sample " + channels("ALTER %s TYPE real"),
        "ALTER TABLE sample SET (timescaledb.enable_columnstore, timescaledb.segmentby = 'tracker',"
            + " timescaledb.orderby = 'time')",
        "DROP DOMAIN reading",
        "DELETE FROM flyway_timescale_history WHERE version = '5'");
  }

  private List<String> types() throws SQLException {
    return server.list(
        r -> r.getString(1),
        "SELECT DISTINCT atttypid::regtype::text FROM pg_attribute WHERE attrelid ="
            + " 'sample'::regclass AND attname = ANY (?)",
        (Object) CHANNELS.toArray(String[]::new));
  }

  private static List<Sample> read(Database database) {
    try (Unit unit = database.soakStore().beginReading()) {
      return unit.samples("A-1", 0, Long.MAX_VALUE);
    }
  }

  @Test
  void aServiceThatIsAtWorkGoesOnWhenChannelsGetTheirType() throws Exception {
    List<Sample> all = Samples.samples("A-1", 0, 3_000);
    try (Database database = Database.open(server.settings())) {
      makeReal();
      write(database, all);
      for (int time = 0; time < 10; time++) {
        // After five times the driver leaves a statement prepared in the server.
        assertThat(write(database, all).duplicate()).isEqualTo(3_000);
        assertThat(read(database)).isEqualTo(all);
      }
      Schema.addChunkFeatures(server.address().dataSource(0), server.address());
      assertThat(types()).containsExactly("reading");
      assertThat(write(database, all).duplicate()).isEqualTo(3_000);
      assertThat(read(database)).isEqualTo(all);
    }
  }

  @Test
  void whereChunksAreCompressedAlreadyChannelsStayAsTheyAre() throws Exception {
    List<Sample> all = Samples.samples("A-1", 0, 3_000);
    try (Database database = Database.open(server.settings())) {
      makeReal();
      write(database, all.subList(0, 2_000));
      server.execute(COMPRESS);
    }
    try (Database database = Database.open(server.settings())) {
      assertThat(types()).containsExactly("real");
      assertThat(write(database, all).duplicate()).isEqualTo(2_000);
      assertThat(read(database)).isEqualTo(all);
    }
  }

  @Test
  void whereAViewRestsOnChannelsTheyStayAsTheyAreAndAreCompressed() throws Exception {
    try (Database database = Database.open(server.settings())) {
      makeReal();
      server.execute("CREATE VIEW warm AS SELECT tracker FROM sample WHERE temperature_c > 30");
      Schema.addChunkFeatures(server.address().dataSource(0), server.address());
      assertThat(types()).containsExactly("real");
      write(database, Samples.samples("A-1", 0, 3_000));
      server.execute(COMPRESS);
      assertThat(database.health().compression()).isTrue();
    }
  }
}
