package soakbench.store.rows;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Map;
import java.util.Optional;
import soakbench.model.SoakTerms;
import soakbench.model.TauPrior;
import soakbench.store.connection.Query;

/** Table {@code soak_terms}. */
public final class Terms {
  private static final String PUT =
      Query.upsert(
          "soak_terms", "soak", "limits::jsonb, tau_median_s, tau_factor, tau_soaks, rates::jsonb");

  private Terms() {}

  public static int write(Connection connection, Map<String, SoakTerms> terms) throws SQLException {
    return Query.changeAll(
        connection,
        PUT,
        terms.entrySet().stream().map(one -> values(one.getKey(), one.getValue())).toList());
  }

  private static Object[] values(String soak, SoakTerms terms) {
    TauPrior prior = terms.tauPrior();
    return new Object[] {
      soak,
      LimitsColumn.text(terms.limits()),
      prior == null ? null : prior.medianS(),
      prior == null ? null : prior.factor(),
      prior == null ? null : prior.soaks(),
      RatesColumn.text(terms.rates())
    };
  }

  public static Optional<SoakTerms> find(Connection connection, String soak) throws SQLException {
    return Query.first(
        connection,
        Terms::read,
        "SELECT limits, tau_median_s, tau_factor, tau_soaks, rates FROM soak_terms"
            + " WHERE soak = ?",
        soak);
  }

  public static int adopt(Connection connection, SoakTerms terms) throws SQLException {
    TauPrior prior = terms.tauPrior();
    return Query.change(
        connection,
        "INSERT INTO soak_terms (soak, limits, tau_median_s, tau_factor, tau_soaks, rates)"
            + " SELECT id, ?::jsonb, ?::float8, ?::float8, ?::int, ?::jsonb FROM soak"
            + " WHERE NOT EXISTS (SELECT 1 FROM soak_terms t WHERE t.soak = soak.id)",
        LimitsColumn.text(terms.limits()),
        prior == null ? null : prior.medianS(),
        prior == null ? null : prior.factor(),
        prior == null ? null : prior.soaks(),
        RatesColumn.text(terms.rates()));
  }

  private static SoakTerms read(ResultSet rows) throws SQLException {
    Double medianS = rows.getObject(2, Double.class);
    TauPrior prior =
        medianS == null ? null : new TauPrior(medianS, rows.getDouble(3), rows.getInt(4));
    return new SoakTerms(
        LimitsColumn.limits(rows.getString(1)), prior, RatesColumn.rates(rows.getString(5)));
  }
}
