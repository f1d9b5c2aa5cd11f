package soakbench.store.derived;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import soakbench.live.SoakSummary;
import soakbench.live.StoreException;
import soakbench.live.figures.SummaryShelf;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.Series;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.Terms;

/**
 * Table {@code soak_figures} for the one who derives its rows anew. Safe for many threads; all
 * calls throw {@link StoreException} when the database does not answer.
 */
public final class StoredSummaries implements SummaryShelf {
  private static final String ENDED =
      "SELECT " + Soaks.COLUMNS + " FROM soak WHERE id = ? AND ended IS NOT NULL";

  private final Pools pools;
  private final DueNotes notes;
  private final DueSearch search;

  public StoredSummaries(Pools pools, DueNotes notes) {
    this.pools = pools;
    this.notes = notes;
    this.search =
        new DueSearch(
            pools,
            notes,
            "looking for what is kept of soaks and out of date",
            "soak_figures",
            "k.version <> ? AND s.ended IS NOT NULL",
            "false");
  }

  @Override
  public List<String> due(int version, int most, Set<String> not) {
    return search.find(most, not, version);
  }

  @Override
  public Optional<Due> soak(String soak) {
    Optional<Due> found =
        pools.request(
            "looking for a soak",
            c -> {
              Optional<Soak> ended = Query.list(c, Soaks::read, ENDED, soak).stream().findFirst();
              SoakTerms terms = Terms.find(c, soak).orElse(SoakTerms.of(Limits.DEFAULT));
              return ended.map(s -> new Due(s, terms));
            });
    if (found.isEmpty()) {
      // One that goes on has it written when it ends.
      notes.readable(soak);
    }
    return found;
  }

  @Override
  public List<Bin> bins(Soak soak) {
    return pools.export("reading bins", c -> Series.ofSoak(c, soak));
  }

  @Override
  public boolean keep(Soak soak, int version, SoakSummary summary) {
    boolean kept =
        pools.change(
            "keeping a soak's figures", c -> SummaryRows.replace(c, soak, version, summary) > 0);
    notes.readable(soak.id());
    return kept;
  }
}
