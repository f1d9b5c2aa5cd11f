package soakbench.api.soaks;

import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.model.Soak;

/**
 * A soak as it is answered.
 *
 * @param soak its id
 * @param name the tracker's name
 * @param lot the tracker's lot, or empty
 * @param ended why it ended; null while it goes on
 * @param samplesKept false where its samples, or some of them, are no longer stored
 */
record SoakView(
    String soak,
    String tracker,
    String name,
    String lot,
    long startUs,
    long endUs,
    long samples,
    Soak.End ended,
    boolean samplesKept) {

  static final Table<SoakView> TABLE =
      new Table<SoakView>()
          .column("soak", SoakView::soak)
          .column("tracker", SoakView::tracker)
          .column("name", SoakView::name)
          .column("lot", SoakView::lot)
          .time("start", SoakView::startUs)
          .time("end", SoakView::endUs)
          .column("samples", SoakView::samples)
          .column("ended", SoakView::ended)
          .column("samples_kept", SoakView::samplesKept);

  static SoakView of(Soak soak, TrackerNames names) {
    return new SoakView(
        soak.id(),
        soak.tracker(),
        names.of(soak.tracker()),
        names.lotOf(soak.tracker()),
        soak.startUs(),
        soak.endUs(),
        soak.samples(),
        soak.ended(),
        soak.samplesKept());
  }
}
