package soakbench.api.imports;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import soakbench.api.access.OtherRacks;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ReasonBody;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerFilter;
import soakbench.live.watch.SoakWatch;
import soakbench.store.Database;
import soakbench.store.ImportRoster;
import soakbench.store.Imports;
import soakbench.store.RecordingImport;

/** Imports: begun, listed, undone. */
public final class ImportCalls {
  static final String PATH = "/api/imports/{import}";

  private static final int PAGE = 100;
  private static final int LONGEST_PAGE = 1_000;
  private static final int LONGEST_SENDER = 200;
  private static final String UNDO = "{\"reason\":\"the folder of another lot\"}";

  /** A call takes out for so long at most; it is sent again until all is out. */
  private static final long TAKES_OUT_NS = 15_000_000_000L;

  private final Imports imports;
  private final ImportRoster roster;
  private final SoakWatch watch;
  private final OtherRacks others;

  /**
   * @param others says who writes for trackers for which this service does not
   */
  public ImportCalls(Database database, SoakWatch watch, OtherRacks others) {
    this.others = others;
    this.imports = database.imports();
    this.roster = database.importRoster();
    this.watch = watch;
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/imports", this::all, "limit", TrackerFilter.SINCE)
        .post("/api/imports", Routes.json(this::begin), "sender")
        .json(PATH, ctx -> ImportTable.IMPORTS.json(find(imports, ctx)))
        .table(PATH + "/files", this::files)
        .post(PATH + "/undo", Routes.json(this::undo));
  }

  /**
   * The import of this address.
   *
   * @throws ProblemException 404 if there is none
   */
  static RecordingImport find(Imports imports, Context ctx) {
    String id = ctx.pathParam("import");
    return (id.matches("[0-9]{1,18}") ? imports.find(Long.parseLong(id)) : EMPTY)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.UNKNOWN_IMPORT,
                    "There is no import " + id + ". GET /api/imports lists them."));
  }

  private static final java.util.Optional<RecordingImport> EMPTY = java.util.Optional.empty();

  private void all(Context ctx, ResponseFormat form) {
    int limit = QueryParameters.count(ctx, "limit", PAGE, LONGEST_PAGE);
    Long sinceUs = QueryParameters.timeUs(ctx, TrackerFilter.SINCE);
    ImportTable.IMPORTS.answer(ctx, form, "imports", imports.newest(sinceUs, limit));
  }

  private void files(Context ctx, ResponseFormat form) {
    RecordingImport one = find(imports, ctx);
    ImportTable.FILES.answer(ctx, form, "files", imports.files(one.id()));
  }

  private Object begin(Context ctx) {
    String sender = QueryParameters.text(ctx, "sender");
    String said = sender == null ? "" : sender.strip();
    if (said.length() > LONGEST_SENDER) {
      throw QueryParameters.invalid(
          "sender", "sender has %d characters; 200 are the most.".formatted(said.length()));
    }
    long id = imports.begin(said, ctx.ip());
    ctx.status(201);
    return ImportTable.IMPORTS.json(imports.find(id).orElseThrow());
  }

  /** Soak by soak, so that samples that come meanwhile wait for no more than one. */
  private Object undo(Context ctx) {
    RecordingImport one = find(imports, ctx);
    String reason = ReasonBody.read(ctx, UNDO).reason("why it is undone");
    imports.undo(one.id(), reason);
    long beganNs = System.nanoTime();
    boolean all = false;
    while (!all && System.nanoTime() - beganNs < TAKES_OUT_NS) {
      var taken = watch.takeOut(one.id());
      all = taken.isEmpty();
      taken.ifPresent(samples -> imports.taken(one.id(), samples));
    }
    if (all) {
      refuseRest(one.id());
      roster.putBack(one.id());
      watch.readEarlier();
    }
    return ImportTable.IMPORTS.json(imports.find(one.id()).orElseThrow());
  }

  /** What is left is of trackers that others write for. */
  private void refuseRest(long id) {
    for (String tracker : imports.trackers(id)) {
      String refusal = others.refusal(tracker);
      if (refusal != null) {
        throw new ProblemException(
            Problem.Kind.OTHER_RACK,
            "All else of import " + id + " is taken out. Undo it there as well: " + refusal);
      }
    }
  }

  /** What a file's outcome says of lots that its trackers have already. */
  static String keptLots(Map<String, String> lots) {
    Map<String, String> words = new LinkedHashMap<>();
    lots.forEach((tracker, lot) -> words.put(tracker, tracker + " is of lot " + lot));
    return words.isEmpty() ? null : String.join(", ", words.values()) + "; that stays";
  }
}
