package soakbench.store.derived;

import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;

/**
 * The kinds of rows of table {@code derived}, with what makes a row out of date. In SQL, soak,
 * terms, tracker and row are {@code s}, {@code t}, {@code r} and {@code k}.
 */
public enum DerivedKind {
  /** The summary of a soak for later ones; written with the samples, when the soak ends. */
  SUMMARY("figures for later soaks", "'{}'::jsonb", "''", 0, "false"),

  /**
   * Of a soak that goes on they may grow a minute old. A soak before it that is left out shows it
   * nothing.
   */
  FIGURES(
      "figures",
      basis("'before', " + before(LeftOut.reason("p") + " IS NULL")),
      state("s"),
      60,
      "k.waits AND k.heard <> " + state("s")),

  /**
   * Lines are counted only of a timeline that may grow: there may be many. What waits is looked at
   * again however little is heard of its soak, since a soak after it may decide it.
   */
  CALIBRATIONS(
      "calibrations",
      basis(
          ("'before', " + before("p.ended = 'cooler_reboot'"))
              + ", 'use_c', CASE jsonb_typeof(t.limits->'use_temperature_c') WHEN 'number'"
              + " THEN (t.limits->'use_temperature_c')::float8 END, 'said', "
              + "(SELECT string_agg(concat(extract(epoch FROM at), was), ' ' ORDER BY at)"
              + " FROM calibration_said WHERE tracker = s.tracker"
              + " AND at >= s.start_time - interval '1 s' AND at <= s.end_time + interval '2 s')"
              + ", 'changes', CASE WHEN s.ended IS NULL"
              + " THEN (SELECT count(*)::int FROM timeline WHERE soak = s.id) END"),
      "(SELECT extract(epoch FROM max(end_time))::text FROM soak WHERE tracker = s.tracker)",
      2,
      "k.waits");

  /** What it is called in the log. */
  final String words;

  private final String basis;
  private final String heard;
  private final int waitS;
  private final String later;

  /**
   * @param basis the state of all that it rests on; a row of another one is out of date
   * @param heard what was heard that may change a row that waits
   * @param waitS how soon a row that waits is derived again, s
   * @param later what makes a soak's row out of date later, with nothing more of it changing
   */
  DerivedKind(String words, String basis, String heard, int waitS, String later) {
    this.words = words;
    this.basis = basis;
    this.heard = heard;
    this.waitS = waitS;
    this.later = later;
  }

  /** As the table has it. */
  public String word() {
    return Query.word(this);
  }

  public String basis() {
    return basis;
  }

  public String heard() {
    return heard;
  }

  String later() {
    return later;
  }

  /** Whether a soak's row is out of date; takes the version. */
  String due() {
    String changed = "k.version <> ? OR k.basis <> " + basis;
    return writtenWithTheSoak()
        ? "s.ended IS NOT NULL AND k.version <> ?"
        : "k.soak IS NULL OR "
            + changed
            + (" OR (k.waits AND k.heard <> " + heard)
            + (" AND k.derived_at < now() - interval '" + waitS + " s')");
  }

  /**
   * Whether a soak, {@code s}, has a row that is up to date.
   *
   * @param version of what derives them
   */
  public String upToDate(int version) {
    return ("EXISTS (SELECT 1 FROM soak_terms t LEFT JOIN tracker r ON r.id = s.tracker"
            + (" LEFT JOIN derived k ON k.kind = '" + word() + "' AND k.soak = s.id"))
        + (" WHERE t.soak = s.id AND (" + due().replace("?", "" + version) + ") IS NOT TRUE)");
  }

  /** Whether a row is written with its soak, and only mended here. */
  boolean writtenWithTheSoak() {
    return this == SUMMARY;
  }

  /** Whether services hold the newest of it in memory, to be read again where it changes. */
  boolean heldInMemory() {
    return this == CALIBRATIONS;
  }

  /** Whether the soak before is used for it only where it counts. */
  boolean usesFiguresBefore() {
    return this == FIGURES;
  }

  /** Soaks with what they are derived with, and with their row where they have one. */
  public String from() {
    return " FROM soak s JOIN soak_terms t ON t.soak = s.id"
        + " LEFT JOIN tracker r ON r.id = s.tracker"
        + (" LEFT JOIN derived k ON k.kind = '" + word() + "' AND k.soak = s.id");
  }

  /** What the roster declares of a tracker's rates. */
  static String rates() {
    return "coalesce(r.rates, 'unknown')";
  }

  /** Rates, where it ended, and more; as long as a soak goes on its samples are none of it. */
  private static String basis(String more) {
    return ("jsonb_build_object('rates', " + rates() + ", 'ended',")
        + (" CASE WHEN s.ended IS NOT NULL THEN " + state("s") + " END, " + more + ")");
  }

  /**
   * The tracker's soak before, in the state that it has: its id, end and samples.
   *
   * @param only a condition of it, {@code p}, where others do not matter
   */
  private static String before(String only) {
    return ("(SELECT CASE WHEN " + only + " THEN concat_ws(' ', p.id, " + state("p") + ") END")
        + " FROM soak p WHERE p.tracker = s.tracker AND p.start_time < s.start_time"
        + " ORDER BY p.start_time DESC LIMIT 1)";
  }

  private static String state(String soak) {
    return "concat_ws(' ', extract(epoch FROM %1$s.end_time), %1$s.samples)".formatted(soak);
  }
}
