package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyStore;
import java.time.Duration;
import java.util.Base64;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiSettings;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.AccessToken;
import soakbench.cli.options.PemFiles;
import soakbench.cli.running.MonotonicClock;
import soakbench.cli.running.Service;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.model.Limits;
import soakbench.store.SharedServer;

/** An agent before the service's real guard: its certificate, its token. */
class AgentTlsTest {
  private static final String TOKEN = "b7f1c0de94d24a5a8f3e1b6c";
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final int LINES = 50;

  @TempDir private Path folder;

  @Test
  void aCertificateThatNobodyVouchesForIsTrustedWhereItIsGiven() throws Exception {
    try (Service service = service();
        PseudoTerminal device = new PseudoTerminal()) {
      try (SqliteSpool spool = spool();
          Agent distrusting =
              agent(device, spool, new HttpDestination(service.url(), () -> TOKEN))) {
        print(device, distrusting);
        await()
            .atMost(PATIENCE)
            .until(() -> distrusting.trouble().orElse("").contains("certificate is not trusted"));
        await().atMost(PATIENCE).until(() -> spool.status().waiting() == LINES);
      }
      HttpDestination trusting =
          new HttpDestination(
              service.url(), () -> TOKEN, PemFiles.trusting(folder.resolve("cert.pem")));
      try (SqliteSpool spool = spool();
          Agent agent = agent(device, spool, trusting)) {
        await().atMost(PATIENCE).until(() -> stored(service) == LINES);
        await().atMost(PATIENCE).until(() -> agent.totals().accepted() == LINES);
      }
    }
  }

  @Test
  void aTokenThatIsMissingOrWrongIsToldAndNothingIsLostUntilItIsRight() throws Exception {
    String[] token = {null};
    try (Service service = service();
        PseudoTerminal device = new PseudoTerminal();
        SqliteSpool spool = spool();
        Agent agent =
            agent(
                device,
                spool,
                new HttpDestination(
                    service.url(),
                    () -> token[0],
                    PemFiles.trusting(folder.resolve("cert.pem"))))) {
      print(device, agent);
      await().atMost(PATIENCE).until(() -> agent.trouble().orElse("").contains("token"));
      token[0] = "wrong-" + TOKEN;
      await().atMost(PATIENCE).until(() -> agent.trouble().orElse("").contains("token"));
      assertThat(spool.status().waiting()).isEqualTo(LINES);
      assertThat(stored(service)).isZero();
      token[0] = TOKEN;
      await().atMost(PATIENCE).until(() -> stored(service) == LINES);
      await().atMost(PATIENCE).until(() -> agent.trouble().isEmpty());
      assertThat(spool.status().refused()).isZero();
    }
  }

  private SqliteSpool spool() {
    return SqliteSpool.open(folder.resolve("spool.db"), SqliteSpool.DEFAULT_LIMIT_BYTES);
  }

  private static Agent agent(PseudoTerminal device, SqliteSpool spool, HttpDestination to) {
    RackFile rack = new RackFile("A", List.of(new RackFile.Slot("A1", device.path())));
    Agent agent = new Agent(rack, spool, to, reason -> {});
    agent.start();
    return agent;
  }

  private static void print(PseudoTerminal device, Agent agent) {
    await().atMost(PATIENCE).until(() -> agent.sources().get(0).open());
    device.write("\n");
    for (int seq = 0; seq < LINES; seq++) {
      device.write(
          "{\"id\":\"KITE-1\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":24.5,\"gyro_dps\":[0,0,0]}\n"
              .formatted(seq, 9000 + 20 * seq));
    }
    await().atMost(PATIENCE).until(() -> agent.waiting() == LINES);
  }

  private static int stored(Service service) {
    // Read beside the service, which writes meanwhile: there is one writer at a time.
    AtomicInteger count = new AtomicInteger();
    service
        .database()
        .archive()
        .samples("KITE-1", 0, Long.MAX_VALUE, sample -> count.incrementAndGet());
    return count.get();
  }

  private Service service() throws Exception {
    AccessSettings access = AccessSettings.OPEN.withToken(new AccessToken(TOKEN)).withKeys(keys());
    return Service.start(
        SharedServer.empty(),
        ApiSettings.local(0).withAccess(access),
        Limits.DEFAULT,
        new MonotonicClock());
  }

  /** A key pair with a certificate of its own for 127.0.0.1, by the JDK's keytool. */
  private KeyStore keys() throws Exception {
    Path file = folder.resolve("keys.p12");
    String keytool = Path.of(System.getProperty("java.home"), "bin", "keytool").toString();
    List<String> command =
        List.of(
            keytool,
            "-genkeypair",
            "-alias",
            "k",
            "-keyalg",
            "RSA",
            "-dname",
            "CN=bench",
            "-ext",
            "san=ip:127.0.0.1,dns:localhost",
            "-storepass",
            "secret",
            "-storetype",
            "PKCS12",
            "-keystore",
            file.toString());
    assertThat(new ProcessBuilder(command).inheritIO().start().waitFor(60, TimeUnit.SECONDS))
        .isTrue();
    KeyStore made = KeyStore.getInstance(file.toFile(), "secret".toCharArray());
    pem("cert.pem", "CERTIFICATE", made.getCertificate("k").getEncoded());
    pem("key.pem", "PRIVATE KEY", made.getKey("k", "secret".toCharArray()).getEncoded());
    return PemFiles.read(folder.resolve("cert.pem"), folder.resolve("key.pem"));
  }

  private void pem(String name, String what, byte[] bytes) throws IOException {
    String text = Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(bytes);
    Files.writeString(
        folder.resolve(name),
        "-----BEGIN " + what + "-----\n" + text + "\n-----END " + what + "-----\n");
  }
}
