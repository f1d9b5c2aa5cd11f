package soakbench.api.events;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/**
 * A client of the events on a plain socket, so that it can also stop reading. It speaks HTTP/1.0,
 * where an answer comes as it is, without chunks.
 */
public final class EventListener implements AutoCloseable {
  /** The newest lines that came: head of the answer, events, comments. */
  public final List<String> lines = new CopyOnWriteArrayList<>();

  private final Socket socket;
  private volatile boolean ended;

  /**
   * @param receiveBytes how much the system may take in for a client that does not read; 0 leaves
   *     the choice to it
   */
  public EventListener(URI base, int receiveBytes) throws IOException {
    this(base, receiveBytes, "/api/events");
  }

  /** The same for events of another address. */
  EventListener(URI base, int receiveBytes, String path) throws IOException {
    socket = new Socket();
    if (receiveBytes > 0) {
      socket.setReceiveBufferSize(receiveBytes);
    }
    socket.connect(new java.net.InetSocketAddress(base.getHost(), base.getPort()));
    String request =
        "GET "
            + path
            + " HTTP/1.0\r\nHost: "
            + base.getAuthority()
            + "\r\nAccept: text/event-stream\r\n\r\n";
    socket.getOutputStream().write(request.getBytes(StandardCharsets.US_ASCII));
  }

  /** Reads from now on. */
  public EventListener reading() {
    Thread reader = new Thread(this::read, "event listener");
    reader.setDaemon(true);
    reader.start();
    return this;
  }

  private void read() {
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(socket.getInputStream(), StandardCharsets.UTF_8))) {
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        lines.add(line);
      }
    } catch (IOException e) {
      lines.add("broken: " + e.getMessage());
    } finally {
      ended = true;
    }
  }

  /** Whether the service ended the connection, as far as it was read. */
  boolean ended() {
    return ended;
  }

  /** The data of all events of this name so far. */
  public List<String> data(String event) {
    List<String> data = new java.util.ArrayList<>();
    for (int i = 0; i + 1 < lines.size(); i++) {
      if (lines.get(i).equals("event: " + event)) {
        data.add(lines.get(i + 1).substring("data: ".length()));
      }
    }
    return data;
  }

  @Override
  public void close() throws IOException {
    socket.close();
  }
}
