package soakbench.store.chunks;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import soakbench.store.connection.Query;

/** What people and later migrations have built upon a table, brought over to one in its place. */
final class TableUsers {
  private static final String RIGHTS =
      "SELECT format('GRANT %s ON %I TO %s', a.privilege_type, ?::text,"
          + " CASE WHEN a.grantee = 0 THEN 'PUBLIC' ELSE a.grantee::regrole::text END)"
          + " FROM pg_class c CROSS JOIN LATERAL aclexplode(c.relacl) a"
          + " WHERE c.oid = ?::regclass AND a.grantee <> c.relowner";

  /** A view keeps its name, its rights and its comments when it is replaced by itself. */
  private static final String VIEWS =
      "SELECT DISTINCT format('CREATE OR REPLACE VIEW %s AS %s', v.oid::regclass,"
          + " pg_get_viewdef(v.oid)) FROM pg_depend d JOIN pg_rewrite r ON r.oid = d.objid"
          + " JOIN pg_class v ON v.oid = r.ev_class AND v.relkind = 'v'"
          + " WHERE d.classid = 'pg_rewrite'::regclass AND d.refobjid = ?::regclass";

  private TableUsers() {}

  /**
   * Gives the new table the old one's rights.
   *
   * @return what to execute once the new one has the old one's name: the views, read from there
   */
  static List<String> moveTo(Connection c, String old, String next) throws SQLException {
    for (String grant : Query.list(c, r -> r.getString(1), RIGHTS, next, old)) {
      Query.change(c, grant);
    }
    return new ArrayList<>(Query.list(c, r -> r.getString(1), VIEWS, old));
  }
}
