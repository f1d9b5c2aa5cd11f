package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyStore;
import java.time.Duration;
import java.util.Arrays;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.api.ApiSettings;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.AccessToken;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.PemFiles;
import soakbench.cli.running.MonotonicClock;
import soakbench.cli.running.Service;
import soakbench.model.Limits;
import soakbench.store.SharedServer;

/**
 * The command line's part of letting phones in, over TLS with keys that the JDK's keytool made; the
 * whole service runs.
 */
class LetInTest {
  private static final String TOKEN = "0123456789abcdef01234567";

  @TempDir static Path folder;
  private static Path certificate;
  private static Path key;
  private static Path tokenFile;

  @BeforeAll
  static void makeKeys() throws Exception {
    certificate = folder.resolve("cert.pem");
    key = folder.resolve("key.pem");
    KeyStore store = made("RSA", "one");
    writePem(certificate, "CERTIFICATE", store.getCertificate("k").getEncoded());
    writePem(key, "PRIVATE KEY", store.getKey("k", "secret".toCharArray()).getEncoded());
    tokenFile = Files.writeString(folder.resolve("token"), TOKEN + "\n");
  }

  /** A key pair with a certificate of its own for 127.0.0.1. */
  private static KeyStore made(String kind, String name) throws Exception {
    Path file = folder.resolve(name + ".p12");
    Process keytool =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "keytool").toString(),
                "-genkeypair",
                "-alias",
                "k",
                "-keyalg",
                kind,
                "-dname",
                "CN=bench",
                "-ext",
                "san=ip:127.0.0.1,dns:localhost",
                "-storepass",
                "secret",
                "-storetype",
                "PKCS12",
                "-keystore",
                file.toString())
            .inheritIO()
            .start();
    assertThat(keytool.waitFor(60, TimeUnit.SECONDS)).isTrue();
    return KeyStore.getInstance(file.toFile(), "secret".toCharArray());
  }

  private static void writePem(Path file, String what, byte[] bytes) throws IOException {
    String text = java.util.Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(bytes);
    Files.writeString(
        file, "-----BEGIN " + what + "-----\n" + text + "\n-----END " + what + "-----\n");
  }

  @Test
  void overTlsAPhoneIsLetInWithACodeThatPairPrints() throws Exception {
    AccessSettings access =
        AccessSettings.OPEN
            .withToken(new AccessToken(TOKEN))
            .withKeys(PemFiles.read(certificate, key));
    ApiSettings api = ApiSettings.local(0).withAccess(access);
    try (Service service =
        Service.start(SharedServer.empty(), api, Limits.DEFAULT, new MonotonicClock())) {
      URI url = service.url();
      assertThat(url.getScheme()).isEqualTo("https");
      String printed = pair(url);
      Matcher code =
          Pattern.compile("pairing code (\\S{4}-\\S{4}), for one phone").matcher(printed);
      assertThat(code.find()).as(printed).isTrue();
      assertThat(printed).contains("type it at " + url + "pair");
      HttpClient phone = HttpClient.newBuilder().sslContext(PemFiles.trusting(certificate)).build();
      HttpResponse<String> paired = enter(phone, url, code.group(1));
      assertThat(paired.statusCode()).isEqualTo(303);
      String cookie = paired.headers().firstValue("Set-Cookie").orElseThrow();
      assertThat(cookie).startsWith("__Host-soakbench-" + url.getPort() + "=").contains("; Secure");
      assertThat(get(phone, url, "Cookie", cookie.split(";")[0])).isEqualTo(200);
      assertThat(get(phone, url, "Accept", "application/json")).isEqualTo(401);
      assertThat(enter(phone, url, code.group(1)).statusCode()).isEqualTo(403);
    }
  }

  private static String pair(URI url) {
    StringWriter out = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    String[] trusting = {"pair", "--to", url.toString(), "--tls-cert", certificate.toString()};
    StringWriter err = new StringWriter();
    line.setErr(new PrintWriter(err, true));
    assertThat(line.execute(trusting)).isNotZero();
    assertThat(err.toString()).contains("wants its token: --token-file");
    String[] known = Arrays.copyOf(trusting, trusting.length + 2);
    known[trusting.length] = "--token-file";
    known[trusting.length + 1] = tokenFile.toString();
    assertThat(line.execute(known)).isZero();
    return out.toString();
  }

  private static HttpResponse<String> enter(HttpClient phone, URI url, String code)
      throws IOException, InterruptedException {
    return phone.send(
        HttpRequest.newBuilder(url.resolve("/pair"))
            .timeout(Duration.ofSeconds(20))
            .header("Content-Type", "application/x-www-form-urlencoded")
            .POST(HttpRequest.BodyPublishers.ofString("code=" + code))
            .build(),
        BodyHandlers.ofString());
  }

  private static int get(HttpClient phone, URI url, String name, String value)
      throws IOException, InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(url.resolve("/api/readiness")).header(name, value).build();
    return phone.send(request, BodyHandlers.ofString()).statusCode();
  }

  @Test
  void keysOfOtherKindsAreReadAndTheWrongOnesNamed() throws Exception {
    KeyStore curve = made("EC", "two");
    Path curveKey = folder.resolve("ec-key.pem");
    Path curveCertificate = folder.resolve("ec-cert.pem");
    writePem(curveKey, "PRIVATE KEY", curve.getKey("k", "secret".toCharArray()).getEncoded());
    writePem(curveCertificate, "CERTIFICATE", curve.getCertificate("k").getEncoded());
    assertThat(PemFiles.read(curveCertificate, curveKey).isKeyEntry("service")).isTrue();
    assertFailure(certificate, curveKey, "is not that of the first certificate");
    assertFailure(key, key, "holds no certificate");
    assertFailure(certificate, certificate, "holds no private key");
    Path old = folder.resolve("old-key.pem");
    writePem(old, "RSA PRIVATE KEY", new byte[] {1, 2, 3});
    assertFailure(certificate, old, "openssl pkcs8 -topk8 -nocrypt");
    Path garbage = folder.resolve("garbage-key.pem");
    writePem(garbage, "PRIVATE KEY", new byte[] {1, 2, 3});
    assertFailure(certificate, garbage, "neither RSA nor EC nor Ed25519");
  }

  private static void assertFailure(Path certificateFile, Path keyFile, String says) {
    assertThatThrownBy(() -> PemFiles.read(certificateFile, keyFile))
        .isInstanceOf(CommandException.class)
        .hasMessageContaining(says);
  }

  @Test
  void serveWithATokenPrintsACodeAndKeepsTheTokenToItself() throws Exception {
    String database = SharedServer.url(SharedServer.empty());
    Path out = folder.resolve("out");
    try (Serving serve =
        Serving.start(out, "--db", database, "--token-file", tokenFile.toString())) {
      serve.awaitSaid("stop with Ctrl-C");
      String printed = serve.text();
      assertThat(printed).contains("pairing code ", "or scan:", "█▀").doesNotContain(TOKEN);
      Matcher board = Pattern.compile("board at (\\S+)").matcher(printed);
      assertThat(board.find()).isTrue();
      assertThat(get(HttpClient.newHttpClient(), URI.create(board.group(1)), "Accept", "*/*"))
          .isEqualTo(401);
    }
    assertThat(Files.readString(out)).doesNotContain(TOKEN);
  }
}
