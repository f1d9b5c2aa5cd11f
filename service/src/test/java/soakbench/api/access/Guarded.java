package soakbench.api.access;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.QuickStop;
import soakbench.api.Service;

/** A service with a token beside the open one, on the same database and watch. */
public final class Guarded implements AutoCloseable {
  static final String TOKEN = "f3b1c7a9e5d24680b7c1f3b1c7a9e5d2";

  final ApiServer server;
  public final Http http;

  private Guarded(Service service, AccessSettings access) {
    ApiSettings settings =
        ApiSettings.local(0)
            .withStreams(new ApiSettings.Streams(100, java.time.Duration.ofMillis(200)))
            .withAccess(
                access.withToken(new AccessToken(TOKEN)).withOpenReading(access.openReading()));
    server =
        QuickStop.of(
            ApiServer.start(settings, service.watch, service.database, service.nowUs::get));
    http = new Http(server.url());
  }

  /** Reading needs the token too. */
  public static Guarded closed(Service service) {
    return with(service, AccessSettings.OPEN.withOpenReading(false));
  }

  static Guarded with(Service service, AccessSettings access) {
    return new Guarded(service, access);
  }

  /** A request on a plain socket, with any header there is. */
  HttpResponse<String> ask(String method, String path, String body, String... headers) {
    java.net.http.HttpRequest.Builder request =
        http.request(path, headers)
            .method(method, java.net.http.HttpRequest.BodyPublishers.ofString(body));
    return http.send(request.build());
  }

  /** Head and body of the answer to a head that is sent as it is, with Connection: close. */
  public static String bare(URI base, String head) throws IOException {
    try (Socket socket = new Socket(base.getHost(), base.getPort())) {
      socket.setSoTimeout(20_000);
      OutputStream out = socket.getOutputStream();
      out.write((head + "Connection: close\r\n\r\n").getBytes(StandardCharsets.ISO_8859_1));
      InputStream in = socket.getInputStream();
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  /** Enters a code as the form does. */
  HttpResponse<String> enter(String code, String... headers) {
    String[] all = java.util.Arrays.copyOf(headers, headers.length + 2);
    all[headers.length] = "Content-Type";
    all[headers.length + 1] = "application/x-www-form-urlencoded";
    return ask("POST", "/pair", "code=" + code, all);
  }

  String newCode() {
    return server.newPairingCode().orElseThrow().code();
  }

  /** A cookie for a request, from a code that is traded for it. */
  String cookie() {
    return cookieOf(enter(newCode()));
  }

  static String cookieOf(HttpResponse<String> paired) {
    return paired.headers().firstValue("Set-Cookie").orElseThrow().split(";", 2)[0];
  }

  @Override
  public void close() {
    server.close();
  }
}
