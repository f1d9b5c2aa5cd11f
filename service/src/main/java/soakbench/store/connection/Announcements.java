package soakbench.store.connection;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.postgresql.PGConnection;
import org.postgresql.PGNotification;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.StoreException;
import soakbench.store.server.ServerAddress;

/**
 * What other programs have just committed to the database, announced by it (NOTIFY) on a connection
 * of its own. An announcement is only a reason to look sooner: where the connection is lost nothing
 * is announced until it is back, and who relies on it looks from time to time anyway.
 */
public final class Announcements implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Announcements.class);
  private static final String CHANNEL = "soakbench";

  /** The server takes 8000 bytes at most; ids have up to 64. */
  private static final int MOST_NAMED = 100;

  private static final int LISTENS_MS = 1_000;
  private static final long PAUSE_MS = 1_000;

  /**
   * What was committed.
   *
   * @param told whether it is what people tell (roster, limits, marks) or what is derived for
   *     tables; else it is seconds, soaks and verdicts
   * @param trackers those of which something was judged again, or whose entries in the roster were
   *     changed; all of them where it is null
   */
  public record News(boolean told, List<String> trackers) {
    private String text(String origin) {
      String whose = trackers == null ? "*" : String.join(" ", trackers);
      return String.join(" ", origin, told ? "told" : "judged", whose).strip();
    }

    private static News read(String text) {
      String[] words = text.split(" ");
      List<String> whose = Arrays.asList(words).subList(Math.min(2, words.length), words.length);
      return new News(
          words.length > 1 && words[1].equals("told"), whose.contains("*") ? null : whose);
    }
  }

  /** Tells this program's own announcements from others'. */
  private final String origin = UUID.randomUUID().toString().substring(0, 8);

  private final List<Consumer<News>> listeners = new CopyOnWriteArrayList<>();
  private final Thread thread = Daemons.thread("announcements", this::run);
  private final CountDownLatch heardOnce = new CountDownLatch(1);
  private volatile ServerAddress address;
  private volatile boolean closed;

  /**
   * @param listener receives what others committed; must return at once
   */
  public void subscribe(Consumer<News> listener) {
    listeners.add(listener);
  }

  /** Has a transaction announce something as soon as it is committed. */
  public void announce(Connection c, boolean told, Collection<String> trackers)
      throws SQLException {
    List<String> named = trackers.size() > MOST_NAMED ? null : List.copyOf(trackers);
    String text = new News(told, named).text(origin);
    Query.list(c, rows -> "", "SELECT pg_notify(?, ?)", CHANNEL, text);
  }

  /** Listens to this server from now on. */
  public synchronized void listen(ServerAddress to) {
    boolean first = address == null;
    address = to;
    if (first) {
      thread.start();
    }
  }

  /**
   * Waits until it is heard what others commit, so that what is read after this need not be read
   * again as soon as it is; at most for so long.
   */
  public void awaitHearing(long ms) {
    try {
      if (!heardOnce.await(ms, TimeUnit.MILLISECONDS)) {
        LOG.debug("announcements are not heard yet");
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void run() {
    while (!closed) {
      ServerAddress from = address;
      try (Connection c = from.dataSource(0).getConnection()) {
        try (Statement statement = c.createStatement()) {
          statement.execute("LISTEN " + CHANNEL);
        }
        // What came before is not announced.
        heard(new News(true, null));
        heardOnce.countDown();
        while (!closed && from.equals(address)) {
          hear(c.unwrap(PGConnection.class).getNotifications(LISTENS_MS));
        }
      } catch (SQLException | StoreException e) {
        LOG.debug("announcements are not heard: {}", e.getMessage());
        if (!Retries.slept(PAUSE_MS)) {
          return;
        }
      }
    }
  }

  private void hear(PGNotification[] all) {
    List<News> news = new ArrayList<>();
    for (PGNotification each : all == null ? new PGNotification[0] : all) {
      if (!each.getParameter().startsWith(origin + " ")) {
        news.add(News.read(each.getParameter()));
      }
    }
    news.stream().distinct().forEach(this::heard);
  }

  private void heard(News news) {
    listeners.forEach(listener -> listener.accept(news));
  }

  @Override
  public void close() {
    closed = true;
    thread.interrupt();
  }
}
