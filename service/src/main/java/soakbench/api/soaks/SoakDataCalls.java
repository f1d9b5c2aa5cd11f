package soakbench.api.soaks;

import com.fasterxml.jackson.core.JsonGenerator;
import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.OptionalLong;
import soakbench.api.http.ClientDisconnectedException;
import soakbench.api.http.EntityTag;
import soakbench.api.http.Json;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.Times;
import soakbench.model.Bin;
import soakbench.model.BinSpan;
import soakbench.model.Soak;
import soakbench.store.SoakArchive;

/** A soak's samples, as they were sent, and its bins. */
public final class SoakDataCalls {
  private static final int BUFFER_BYTES = 1 << 16;
  private static final long US_PER_S = 1_000_000L;
  private static final String POINTS = "points";
  private static final int MOST_POINTS = 10_000;

  /** The year 9999: later than any sample. */
  private static final long FAR_AWAY_US = 253_402_300_799_000_000L;

  private final SoakArchive archive;

  public SoakDataCalls(SoakArchive archive) {
    this.archive = archive;
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/soaks/{soak}/samples", this::samples, "from", "to")
        .table("/api/soaks/{soak}/bins", this::bins, "from", POINTS, "to");
  }

  /** A stretch of a soak, microseconds since 1970; the end is not part of it. */
  private record Stretch(Soak soak, long fromUs, long toUs) {}

  private Stretch stretch(Context ctx) {
    Soak soak = SoakCalls.find(archive, ctx);
    Long fromUs = QueryParameters.timeUs(ctx, "from");
    Long toUs = QueryParameters.timeUs(ctx, "to");
    checkOrder(fromUs, toUs);
    long beginUs = fromUs == null ? soak.startUs() : Math.max(fromUs, soak.startUs());
    // The end of an open soak is that of its last whole second; newer samples are its own too.
    long lastUs = soak.open() ? FAR_AWAY_US : soak.endUs() + 1;
    long endUs = toUs == null ? lastUs : Math.min(toUs, lastUs);
    return new Stretch(soak, beginUs, Math.max(beginUs, endUs));
  }

  /** Refuses a stretch that ends before it begins; either may be null. */
  static void checkOrder(Long fromUs, Long toUs) {
    if (fromUs != null && toUs != null && fromUs > toUs) {
      throw QueryParameters.invalid(
          "from",
          "from=%s is later than to=%s; swap them."
              .formatted(Times.text(fromUs), Times.text(toUs)));
    }
  }

  private void samples(Context ctx, ResponseFormat form) {
    Stretch stretch = stretch(ctx);
    Soak soak = stretch.soak();
    refuseDropped(soak);
    answer(
        ctx,
        form,
        soak,
        "samples",
        SampleTable.of(soak),
        row -> archive.samples(soak.tracker(), stretch.fromUs(), stretch.toUs(), row));
  }

  /** An empty list would look as if nothing had been measured. */
  private void refuseDropped(Soak soak) {
    OptionalLong droppedUs =
        soak.samplesKept() ? OptionalLong.empty() : archive.samplesDroppedUs(soak.id());
    if (droppedUs.isPresent()) {
      throw new ProblemException(
          Problem.Kind.SAMPLES_DROPPED,
          "The samples of %s were dropped on %s, as they are kept for a limited time here. Its bins"
                  .formatted(soak.id(), Times.text(droppedUs.getAsLong()))
              + " and figures stay: ask for /api/soaks/%s/bins.".formatted(soak.id()));
    }
  }

  private void bins(Context ctx, ResponseFormat form) {
    Stretch stretch = stretch(ctx);
    Soak soak = stretch.soak();
    long from = Math.floorDiv(stretch.fromUs(), US_PER_S);
    long to = Math.floorDiv(stretch.toUs() - 1, US_PER_S) + 1;
    int points = QueryParameters.count(ctx, POINTS, 0, MOST_POINTS, 2);
    if (points > 0) {
      List<BinSpan> spans = archive.binSpans(soak, from, to, points);
      answer(ctx, form, soak, "bins", BinTable.spans(), spans::forEach);
    } else {
      List<Bin> bins = archive.bins(soak.tracker(), from, to);
      answer(ctx, form, soak, "bins", BinTable.of(soak), bins::forEach);
    }
  }

  /** Answers row by row: as CSV, or as {@code {soak, <name>: [rows], next: null}}. */
  private static <T> void answer(
      Context ctx,
      ResponseFormat form,
      Soak soak,
      String name,
      Table<T> table,
      Table.Rows<T> rows) {
    if (soak.open()) {
      ctx.header("Cache-Control", "no-store");
    } else if (EntityTag.isKept(ctx, List.of(soak, form, table.names()))) {
      return;
    }
    if (form == ResponseFormat.CSV) {
      table.csv(ctx, rows);
      return;
    }
    ctx.contentType("application/json");
    if (ctx.method() == HandlerType.HEAD) {
      return;
    }
    try {
      JsonGenerator json = generator(ctx);
      json.writeStartObject();
      json.writeStringField("soak", soak.id());
      json.writeArrayFieldStart(name);
      rows.each(row -> write(json, table.json(row)));
      json.writeEndArray();
      json.writeNullField("next");
      json.writeEndObject();
      // Closed only when whole: a broken answer must not end like a good one.
      json.close();
    } catch (UncheckedIOException e) {
      throw new ClientDisconnectedException(e.getCause());
    } catch (IOException e) {
      throw new ClientDisconnectedException(e);
    }
  }

  private static JsonGenerator generator(Context ctx) throws IOException {
    return Json.mapper()
        .createGenerator(new BufferedOutputStream(ctx.outputStream(), BUFFER_BYTES))
        .disable(JsonGenerator.Feature.FLUSH_PASSED_TO_STREAM);
  }

  private static void write(JsonGenerator json, Object row) {
    try {
      json.writePOJO(row);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
