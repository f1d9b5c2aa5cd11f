package soakbench.ingest.sending;

import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/**
 * A service somewhere else, by {@code POST /api/samples}: packed lines. Its 2xx acknowledges a
 * batch only where it accounts for every line of it, so that no other server's "OK" is taken for
 * one.
 */
public final class HttpDestination implements Destination {
  private static final Logger LOG = LoggerFactory.getLogger(HttpDestination.class);
  private static final Duration CONNECT = Duration.ofSeconds(5);
  private static final Duration ANSWER = Duration.ofSeconds(60);
  private static final int LONGEST_ANSWER_BYTES = 1 << 20;

  private static final Duration HEARD_ANSWER = Duration.ofSeconds(5);
  private static final Duration DATE_ANSWER = Duration.ofSeconds(3);

  private final String root;
  private final URI samples;
  private final URI samplesAgain;
  private final URI heard;
  private final URI health;
  private final Supplier<String> token;
  private final LongSupplier nowMs;
  private final ClockCheck clock;
  private final HttpClient http;

  /**
   * @param service the service's address, http or https
   * @param token asked before each request, so that a new one is used at once; gives null for none
   */
  public HttpDestination(URI service, Supplier<String> token) {
    this(service, token, (SSLContext) null);
  }

  /**
   * The same for a certificate that no public authority signed.
   *
   * @param trust says which certificates are trusted; null for those that the system trusts
   */
  public HttpDestination(URI service, Supplier<String> token, SSLContext trust) {
    this(service, token, trust, System::currentTimeMillis);
  }

  /** With a clock of one's own, for tests. */
  HttpDestination(URI service, Supplier<String> token, LongSupplier nowMs) {
    this(service, token, null, nowMs);
  }

  private HttpDestination(
      URI service, Supplier<String> token, SSLContext trust, LongSupplier nowMs) {
    HttpClient.Builder client =
        HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).connectTimeout(CONNECT);
    this.http = trust == null ? client.build() : client.sslContext(trust).build();
    this.nowMs = nowMs;
    this.clock = new ClockCheck(nowMs);
    String address = service.toString();
    this.root = address + (address.endsWith("/") ? "" : "/");
    this.samples = URI.create(root + "api/samples");
    this.samplesAgain = URI.create(samples + "?again=true");
    this.heard = URI.create(root + "api/heard");
    this.health = URI.create(root + "health");
    this.token = token;
  }

  private HttpDestination(HttpDestination other, String path, String again) {
    this.root = other.root;
    this.samples = URI.create(root + path);
    this.samplesAgain = URI.create(root + again);
    this.heard = other.heard;
    this.health = other.health;
    this.token = other.token;
    this.nowMs = other.nowMs;
    this.clock = other.clock;
    this.http = other.http;
  }

  /**
   * Another address of the same service that takes samples as {@code /api/samples} does, and tells
   * by itself that they are not live.
   *
   * @param path without the slash before it
   */
  public Destination at(String path) {
    return new HttpDestination(this, path, path);
  }

  /**
   * The same of a sender that reads on a rack: the service that writes for it puts trackers there
   * that the roster puts nowhere.
   *
   * @param rack empty for one without a name
   */
  public HttpDestination reading(String rack) {
    if (rack.isEmpty()) {
      return this;
    }
    String on = "rack=" + URLEncoder.encode(rack, StandardCharsets.UTF_8);
    return new HttpDestination(this, "api/samples?" + on, "api/samples?again=true&" + on);
  }

  @Override
  public Receipt send(List<Sample> batch) throws InterruptedException {
    return send(samples, batch);
  }

  @Override
  public Receipt sendAgain(List<Sample> batch) throws InterruptedException {
    return send(samplesAgain, batch);
  }

  @Override
  public boolean hears() {
    return true;
  }

  @Override
  public void hear(List<Sample> newest) throws InterruptedException {
    UploadResponse answer = post(heard, SampleLines.packed(newest), HEARD_ANSWER);
    if (answer.status() / 100 != 2) {
      throw new StoreException(heard + " answered " + answer.status(), null, true);
    }
  }

  private Receipt send(URI to, List<Sample> batch) throws InterruptedException {
    UploadResponse answer = post(to, SampleLines.packed(batch), ANSWER);
    if (answer.refusesContent()) {
      return batch.size() == 1
          ? new Receipt(
              new SampleSink.Outcome(0, 0, 0), List.of(new Refusal(0, answer.reason(), false)))
          : inHalves(batch);
    }
    Optional<Receipt> receipt = answer.receipt(batch.size());
    return receipt.isPresent() ? receipt.get() : inHalves(batch);
  }

  /** Finds out which lines are refused. Sending some of them twice is harmless. */
  private Receipt inHalves(List<Sample> batch) throws InterruptedException {
    int middle = batch.size() / 2;
    Receipt first = send(samplesAgain, batch.subList(0, middle));
    Receipt second = send(samplesAgain, batch.subList(middle, batch.size()));
    List<Refusal> refused = new ArrayList<>(first.refused());
    second.refused().forEach(r -> refused.add(r.at(middle + r.index())));
    return new Receipt(first.outcome().plus(second.outcome()), refused);
  }

  private UploadResponse post(URI to, byte[] packed, Duration within) throws InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(to)
            .timeout(within)
            .header("Content-Type", "application/x-ndjson")
            .header("Content-Encoding", "gzip")
            .header("Accept", "application/json")
            .POST(HttpRequest.BodyPublishers.ofByteArray(packed));
    String secret = token.get();
    if (secret != null) {
      request.header("Authorization", "Bearer " + secret);
    }
    try {
      long sentMs = nowMs.getAsLong();
      HttpResponse<InputStream> response =
          http.send(request.build(), HttpResponse.BodyHandlers.ofInputStream());
      clock.heard(response.headers().firstValue("Date"), sentMs);
      return new UploadResponse(to, response.statusCode(), text(response));
    } catch (IOException e) {
      throw new StoreException("no answer from " + to + " (" + why(e) + ")", e, true);
    }
  }

  private static String text(HttpResponse<InputStream> response) throws IOException {
    try (InputStream body = response.body()) {
      return new String(body.readNBytes(LONGEST_ANSWER_BYTES), StandardCharsets.UTF_8);
    }
  }

  private static String why(IOException e) {
    if (e instanceof java.net.ConnectException) {
      return "nobody listens there, or it can't be reached";
    }
    String text = e.getMessage() == null ? e.toString() : e.getMessage();
    return e instanceof SSLException
        ? "its certificate is not trusted, or not made out to this name: " + text
        : text;
  }

  @Override
  public void learnDate() {
    HttpRequest request = HttpRequest.newBuilder(health).timeout(DATE_ANSWER).build();
    try {
      long sentMs = nowMs.getAsLong();
      HttpResponse<Void> response = http.send(request, HttpResponse.BodyHandlers.discarding());
      clock.heard(response.headers().firstValue("Date"), sentMs);
    } catch (IOException e) {
      LOG.info("the service's date is not known yet ({}); times are this computer's", why(e));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public long dateUs() {
    return clock.dateUs();
  }

  @Override
  public boolean refusesAhead() {
    return true;
  }

  @Override
  public Optional<String> notice() {
    return clock.notice();
  }
}
