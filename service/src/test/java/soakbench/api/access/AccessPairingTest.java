package soakbench.api.access;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Service;

/** How a phone trades a code for a cookie, over real HTTP. */
@ExtendWith(Service.Running.class)
class AccessPairingTest {
  private static final String HTML = "text/html,application/xhtml+xml";

  @Test
  void aPageOpenedByAStrangerLeadsToThePairingPage(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      HttpResponse<String> board = guarded.http.get("/", "Accept", HTML);
      assertThat(board.statusCode()).isEqualTo(303);
      assertThat(board.headers().firstValue("Location")).hasValue("/pair");
      assertThat(board.body()).isEmpty();
      HttpResponse<String> page = guarded.http.get("/pair", "Accept", HTML);
      assertThat(page.statusCode()).isEqualTo(200);
      assertThat(page.body()).contains("<form method=\"post\" action=\"/pair\">");
      for (String needed : new String[] {"/css/frame.css", "/css/pair.css", "/favicon.svg"}) {
        assertThat(guarded.http.get(needed).statusCode()).as(needed).isEqualTo(200);
      }
      assertThat(page.headers().firstValue("Content-Security-Policy").orElseThrow())
          .contains("form-action 'self'");
    }
  }

  @Test
  void aCodeIsTradedForACookieThatScriptsAndOtherSitesDoNotGet(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      HttpResponse<String> paired = guarded.enter(guarded.newCode());
      assertThat(paired.statusCode()).isEqualTo(303);
      assertThat(paired.headers().firstValue("Location")).hasValue("/");
      String cookie = paired.headers().firstValue("Set-Cookie").orElseThrow();
      assertThat(cookie)
          .startsWith("soakbench-" + guarded.server.port() + "=")
          .contains("; HttpOnly", "; SameSite=Strict", "; Path=/", "; Max-Age=2592000")
          .doesNotContain("Domain");
      String shown = Guarded.cookieOf(paired);
      Http.json(guarded.http.get("/api/readiness", "Cookie", shown), "ReadinessList");
      assertThat(guarded.http.get("/", "Cookie", shown, "Accept", HTML).statusCode())
          .isEqualTo(200);
    }
  }

  @Test
  void aPairedBrowserWritesFromOurPagesOnly(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      String cookie = guarded.cookie();
      String own = guarded.http.base().toString().replaceFirst("/$", "");
      String[] json = {"Content-Type", "application/json", "Cookie", cookie};
      Http.json(
          guarded.ask("PUT", "/api/trackers/A-cookie", "{}", with(json, "Origin", own)), "Tracker");
      Http.json(
          guarded.ask(
              "PUT", "/api/trackers/A-cookie", "{}", with(json, "Sec-Fetch-Site", "same-origin")),
          "Tracker");
      Http.problem(guarded.ask("PUT", "/api/trackers/A-cookie", "{}", json), 401, "token-needed");
      Http.problem(
          guarded.ask(
              "PUT", "/api/trackers/A-cookie", "{}", with(json, "Origin", "http://127.0.0.1:1")),
          403,
          "cross-site");
    }
  }

  private static String[] with(String[] headers, String name, String value) {
    String[] all = java.util.Arrays.copyOf(headers, headers.length + 2);
    all[headers.length] = name;
    all[headers.length + 1] = value;
    return all;
  }

  @Test
  void aCodeWorksOnceAndAsPeopleTypeIt(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      String code = guarded.newCode();
      String typed = "+" + code.toLowerCase().replace("-", "").replace('0', 'o').replace('1', 'l');
      assertThat(guarded.enter(typed).statusCode()).isEqualTo(303);
      JsonNode problem = Http.problem(guarded.enter(code), 403, "code-refused");
      assertThat(problem.get("detail").asText()).contains("used already");
    }
  }

  @Test
  void showingThePageDoesNotUseTheCodeUp(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      String code = guarded.newCode();
      for (int i = 0; i < 3; i++) {
        assertThat(guarded.http.get("/pair?code=" + code).body())
            .contains("value=\"" + code + "\"");
      }
      assertThat(guarded.enter(code).statusCode()).isEqualTo(303);
    }
  }

  @Test
  void whatTheAddressHoldsBesideACodeDoesNotReachThePage(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      String page = guarded.http.get("/pair?code=%22%3E%3Cscript%3Ealert(1)%3C/script%3E").body();
      assertThat(page).contains("value=\"\"").doesNotContain("alert");
    }
  }

  @Test
  void aCodeEndsByItself(Service service) {
    AccessSettings brief =
        AccessSettings.OPEN.withOpenReading(false).withCodeLife(Duration.ofMillis(300));
    try (Guarded guarded = Guarded.with(service, brief)) {
      PairingCode code = guarded.server.newPairingCode().orElseThrow();
      await().until(() -> Instant.now().isAfter(code.expires()));
      Http.problem(guarded.enter(code.code()), 403, "code-refused");
      assertThat(guarded.enter(guarded.newCode()).statusCode()).isEqualTo(303);
    }
  }

  @Test
  void guessingEndsAfterAFewTriesEvenWithTheRightCode(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      String code = guarded.newCode();
      int refused = 0;
      HttpResponse<String> answer = guarded.enter("0000-0000");
      while (answer.statusCode() == 403 && refused < 50) {
        refused++;
        answer = guarded.enter("0000-0000");
      }
      // A minute may end in between, and then the count begins again.
      assertThat(refused).isBetween(GuessLimiter.OF_ONE, 2 * GuessLimiter.OF_ONE);
      Http.problem(answer, 429, "too-many-requests");
      assertThat(answer.headers().firstValue("Retry-After")).hasValue("60");
      assertThat(guarded.enter(code).statusCode()).isEqualTo(429);
    }
  }

  @Test
  void manyClientsTogetherGuessNoMoreThanAFewDozenTimesAMinute() {
    AtomicLong nowMs = new AtomicLong(600_000);
    PairingCodes codes = new PairingCodes(Duration.ofMinutes(10), nowMs::get);
    String code = codes.issue().code();
    int wrong = 0;
    for (int client = 0; client < 500; client++) {
      wrong += codes.trade("client " + client, "00000000") == PairingCodes.Traded.WRONG ? 1 : 0;
    }
    assertThat(wrong).isEqualTo(GuessLimiter.OF_ALL);
    assertThat(codes.trade("honest", code)).isEqualTo(PairingCodes.Traded.TOO_OFTEN);
    nowMs.addAndGet(60_000);
    assertThat(codes.trade("honest", code)).isEqualTo(PairingCodes.Traded.GOOD);
  }

  @Test
  void aBrowserIsToldOnThePageWhatIsWrongWithItsCode(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      HttpResponse<String> page = guarded.enter("%3Cb%3Enonsense", "Accept", HTML);
      assertThat(page.statusCode()).isEqualTo(403);
      assertThat(page.headers().firstValue("Content-Type").orElseThrow()).startsWith("text/html");
      assertThat(page.body()).contains("role=\"alert\"", "<form").doesNotContain("nonsense");
      Http.problem(
          guarded.ask(
              "POST",
              "/pair",
              "code=" + "1".repeat(2000),
              "Content-Type",
              "application/x-www-form-urlencoded"),
          413,
          "too-large");
      for (String body : new String[] {"", "code", "code=%zz", "kode=1", "code=%00"}) {
        guarded.ask("POST", "/pair", body, "Content-Type", "application/x-www-form-urlencoded");
      }
    }
  }

  @Test
  void aPageOfAnotherSiteCannotPairABrowser(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      String code = guarded.newCode();
      Http.problem(guarded.enter(code, "Origin", "https://elsewhere.example"), 403, "cross-site");
      assertThat(guarded.enter(code).statusCode()).isEqualTo(303);
    }
  }

  @Test
  void whoIsLetInMayAskForMoreCodes(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      HttpResponse<String> answer =
          guarded.ask("POST", "/api/pairing-codes", "", "Authorization", "Bearer " + Guarded.TOKEN);
      assertThat(answer.statusCode()).isEqualTo(201);
      JsonNode code = Http.json(answer, "PairingCode");
      assertThat(guarded.enter(code.get("code").asText()).statusCode()).isEqualTo(303);
      assertThat(code.get("pages").get(0).asText())
          .isEqualTo(guarded.http.base() + "pair?code=" + code.get("code").asText());
    }
    JsonNode open =
        Http.problem(service.http.send("POST", "/api/pairing-codes", null, ""), 404, "not-found");
    assertThat(open.get("detail").asText()).contains("started without a token");
  }

  @Test
  void aForgedOldOrForeignCookieLetsNobodyIn(Service service) {
    AtomicLong nowS = new AtomicLong(1_800_000_000L);
    PairingCookie cookies = new PairingCookie(new AccessToken(Guarded.TOKEN), nowS::get);
    PairingCookie others =
        new PairingCookie(new AccessToken("another-token-of-30-characters"), nowS::get);
    String value = cookies.issue();
    assertThat(cookies.isGood(value)).isTrue();
    assertThat(cookies.issue()).isNotEqualTo(value);
    assertThat(others.isGood(value)).as("another token makes old cookies void").isFalse();
    for (int i = 0; i < value.length(); i++) {
      char other = value.charAt(i) == 'A' ? 'B' : 'A';
      String forged = value.substring(0, i) + other + value.substring(i + 1);
      // The last character has two bits that decode to nothing.
      assertThat(i < value.length() - 1 && cookies.isGood(forged)).as("character " + i).isFalse();
    }
    for (String nonsense :
        new String[] {"", "x", "!".repeat(75), value + "A", value.substring(1)}) {
      assertThat(cookies.isGood(nonsense)).isFalse();
    }
    nowS.addAndGet(PairingCookie.LIFE.toSeconds() - 1);
    assertThat(cookies.isGood(value)).isTrue();
    nowS.addAndGet(1);
    assertThat(cookies.isGood(value)).isFalse();
    nowS.addAndGet(-PairingCookie.LIFE.toSeconds() - 3600);
    assertThat(cookies.isGood(value)).as("from a future").isFalse();
  }
}
