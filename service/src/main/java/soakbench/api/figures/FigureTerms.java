package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.Arrays;
import soakbench.api.http.EntityTag;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Table;
import soakbench.live.figures.FigureDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;
import soakbench.store.SoakArchive;

/** What a soak's figures follow from beside its bins. */
final class FigureTerms {
  private final SoakArchive archive;
  private final SoakWatch watch;

  FigureTerms(SoakArchive archive, SoakWatch watch) {
    this.archive = archive;
    this.watch = watch;
  }

  /** Temperature in use by the soak's limits, degC. */
  double useC(Soak soak) {
    return limits(soak).useTemperatureC();
  }

  /** A soak of before terms were kept has none until the first start that knows them is done. */
  private Limits limits(Soak soak) {
    return archive.terms(soak.id()).map(SoakTerms::limits).orElseGet(watch::limits);
  }

  /** What the roster declares of its tracker's rates now. */
  Rates declared(Soak soak) {
    return watch.rosterRates().of(soak.tracker());
  }

  /** As below, of an answer about one soak alone. */
  boolean isKept(Context ctx, ResponseFormat form, Table<?> table, Soak soak) {
    return isKept(ctx, form, table, soak, null);
  }

  /**
   * Whether the client has the answer about a soak that ended already, so that nothing need be
   * worked out. A late sample changes the soak's row; while a soak goes on, nobody is told so.
   *
   * @param other a soak that the answer is about too, or null
   * @param more what else the answer follows from that neither address nor soak tells
   */
  boolean isKept(
      Context ctx, ResponseFormat form, Table<?> table, Soak soak, Soak other, Object... more) {
    if (soak.open() || (other != null && other.open())) {
      return false;
    }
    return EntityTag.isKept(
        ctx,
        Arrays.asList(
            FigureDeriver.VERSION,
            form,
            table.names(),
            soak,
            useC(soak),
            declared(soak),
            other,
            Arrays.asList(more)));
  }
}
