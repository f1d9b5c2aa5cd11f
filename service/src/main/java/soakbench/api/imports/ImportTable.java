package soakbench.api.imports;

import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.store.ImportFile;
import soakbench.store.RecordingImport;
import soakbench.store.RecordingImport.Undone;

/** An import, and its files, as they are answered. */
public final class ImportTable {
  /** An import, by how many of its files and samples were taken. */
  public static final Table<RecordingImport> IMPORTS =
      new Table<RecordingImport>()
          .column("import", RecordingImport::id)
          .time("began", RecordingImport::beganUs)
          .column("sender", RecordingImport::sender)
          .column("sent_from", RecordingImport::address)
          .column("stage", ImportTable::stage)
          .column("files_all", i -> i.files().all())
          .column("files_ended", i -> i.files().ended())
          .column("files_failed", i -> i.files().failed())
          .column("accepted", i -> i.samples().accepted())
          .column("duplicate", i -> i.samples().duplicate())
          .column("conflicting", i -> i.samples().conflicting())
          .column("rejected", i -> i.samples().rejected())
          .time("undone_at", undone(Undone::sinceUs))
          .column("reason", undone(Undone::reason))
          .column("taken_out", undone(Undone::taken));

  static final Table<ImportFile> FILES =
      new Table<ImportFile>()
          .column("file", ImportFile::name)
          .column("accepted", f -> f.samples().accepted())
          .column("duplicate", f -> f.samples().duplicate())
          .column("conflicting", f -> f.samples().conflicting())
          .column("rejected", f -> f.samples().rejected())
          .time("ended_at", ImportFile::endedUs)
          .column("problem", ImportFile::problem);

  private ImportTable() {}

  private static String stage(RecordingImport i) {
    return i.undone() == null ? "in" : i.undone().all() ? "undone" : "undoing";
  }

  private static <T> Function<RecordingImport, T> undone(Function<Undone, T> part) {
    return i -> i.undone() == null ? null : part.apply(i.undone());
  }
}
