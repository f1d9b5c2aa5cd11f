package soakbench.api.imports;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.Collection;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.LongFunction;
import soakbench.api.access.RequestLimiter;
import soakbench.api.health.ServiceStatus;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.RequestBodies;
import soakbench.api.http.Routes;
import soakbench.api.samples.RecordingUpload;
import soakbench.api.samples.SampleCalls;
import soakbench.api.samples.UploadContext;
import soakbench.api.samples.UploadResult;
import soakbench.model.Tracker;
import soakbench.store.Database;
import soakbench.store.ImportRoster;
import soakbench.store.Imports;
import soakbench.store.RecordingImport;
import soakbench.store.RecordingImport.Counts;

/** What an import brings: files as they are, or their samples in pieces. */
public final class ImportedFileCalls {
  private static final String FILE = "file";
  private static final String TRACKER = "tracker";
  private static final String LOT = "lot";
  private static final int LONGEST = 500;

  /** Lines that are of no file. */
  private static final String UNNAMED = "lines";

  /** A recording of weeks; more is no recording. */
  private static final long LARGEST_BYTES = 16L << 30;

  private static final String ENDED =
      "{\"file\":\"monday.jsonl\",\"rejected\":0,\"trackers\":[\"T-0412\"],\"problem\":null}";

  private final Imports imports;
  private final ImportRoster roster;
  private final SampleCalls samples;
  private final LongFunction<UploadContext> context;
  private final ServiceStatus status;

  /**
   * @param samples takes what comes in pieces
   * @param context of the recordings of an import
   * @param status an upload ends where the service stops
   */
  public ImportedFileCalls(
      Database database,
      SampleCalls samples,
      LongFunction<UploadContext> context,
      ServiceStatus status) {
    this.imports = database.imports();
    this.roster = database.importRoster();
    this.samples = samples;
    this.context = context;
    this.status = status;
  }

  public void addTo(Routes routes) {
    routes
        .post(ImportCalls.PATH + "/samples", Routes.json(this::piece), FILE)
        .post(ImportCalls.PATH + "/recordings", Routes.json(this::recording), FILE, TRACKER, LOT)
        .post(ImportCalls.PATH + "/files", Routes.json(this::ended), LOT);
  }

  /**
   * What became of one file.
   *
   * @param unused which lines gave no sample, in words; null where all did
   * @param otherLots whose lot was another, and stays; null where none was
   * @param problem why it failed; null where it did not
   */
  record Outcome(
      String file,
      long accepted,
      long duplicate,
      long conflicting,
      long rejected,
      Set<String> trackers,
      String unused,
      String otherLots,
      String problem) {}

  private RecordingImport open(Context ctx) {
    RecordingImport one = ImportCalls.find(imports, ctx);
    if (one.undone() != null) {
      throw new ProblemException(
          Problem.Kind.IMPORT_UNDONE,
          "Import " + one.id() + " was undone: " + one.undone().reason() + ". Begin another.");
    }
    return one;
  }

  private static String file(Context ctx) {
    String name = QueryParameters.text(ctx, FILE);
    if (name == null || name.length() > LONGEST) {
      throw QueryParameters.invalid(
          FILE, "file must name the recording, in 1 to " + LONGEST + " characters.");
    }
    return name;
  }

  private UploadResult.Answer piece(Context ctx) {
    RecordingImport one = open(ctx);
    String file = QueryParameters.text(ctx, FILE) == null ? UNNAMED : file(ctx);
    UploadResult.Answer answer = samples.take(ctx, context.apply(one.id()));
    imports.add(
        one.id(),
        file,
        new Counts(answer.accepted(), answer.duplicate(), answer.conflicting(), answer.rejected()));
    return answer;
  }

  private Outcome recording(Context ctx) {
    RecordingImport one = open(ctx);
    String file = file(ctx);
    String tracker = QueryParameters.text(ctx, TRACKER);
    if (tracker != null && !Tracker.isId(tracker)) {
      throw QueryParameters.invalid(
          TRACKER, "tracker=" + tracker + " is no id: " + Tracker.ID_RULE);
    }
    RecordingUpload upload =
        new RecordingUpload(context.apply(one.id()), RequestLimiter.client(ctx.ip()));
    RecordingUpload.Outcome found = upload.read(ctx, file, tracker, this::goOn);
    Counts counts =
        new Counts(
            found.samples().accepted(),
            found.samples().duplicate(),
            found.samples().conflicting(),
            found.rejected());
    imports.add(one.id(), file, counts);
    imports.end(one.id(), file, found.problem());
    return new Outcome(
        file,
        counts.accepted(),
        counts.duplicate(),
        counts.conflicting(),
        counts.rejected(),
        found.trackers(),
        found.unused(),
        lots(ctx, one, found.trackers()),
        found.problem());
  }

  private void goOn(long bytes) {
    if (status.isStopping()) {
      throw new ProblemException(
          Problem.Kind.BUSY,
          "The service is stopping. Send the file again when it is back; what came is kept, and"
              + " sending it again does no harm.");
    }
    if (bytes > LARGEST_BYTES) {
      throw new ProblemException(
          Problem.Kind.TOO_LARGE, "A recording may have 16 GiB. What came before was kept.");
    }
  }

  private String lots(Context ctx, RecordingImport one, Collection<String> trackers) {
    String lot = QueryParameters.text(ctx, LOT);
    return lot == null ? null : ImportCalls.keptLots(roster.setLot(one.id(), trackers, lot));
  }

  /** All pieces of a file were sent, or no more will be. */
  private Outcome ended(Context ctx) {
    RecordingImport one = open(ctx);
    RequestBodies.requireMediaType(ctx, "application/json", "The end of a file is taken");
    JsonNode body = RequestBodies.object(ctx.bodyAsBytes(), "the end of a file", ENDED);
    String file = body.path(FILE).asText("");
    if (file.isEmpty() || file.length() > LONGEST) {
      throw new ProblemException(Problem.Kind.INVALID_CONTENT, "Send " + ENDED + ".");
    }
    String problem = body.path("problem").isTextual() ? body.path("problem").asText() : null;
    Set<String> trackers = new TreeSet<>();
    body.path("trackers").forEach(id -> trackers.add(id.asText()));
    trackers.removeIf(id -> !Tracker.isId(id));
    imports.add(one.id(), file, new Counts(0, 0, 0, Math.max(0, body.path("rejected").asLong())));
    imports.end(one.id(), file, problem);
    Counts all =
        imports.files(one.id()).stream()
            .filter(f -> f.name().equals(file))
            .findFirst()
            .orElseThrow()
            .samples();
    return new Outcome(
        file,
        all.accepted(),
        all.duplicate(),
        all.conflicting(),
        all.rejected(),
        trackers,
        null,
        lots(ctx, one, trackers),
        problem);
  }
}
