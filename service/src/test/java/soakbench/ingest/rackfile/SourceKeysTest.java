package soakbench.ingest.rackfile;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.ingest.rackfile.AskSettings.Newline;

/** One slot's keys, and the exact sentence about each mistake. */
class SourceKeysTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final FileProblems problems = new FileProblems();

  private static JsonNode node(String json) throws JsonProcessingException {
    return JSON.readTree(json.replace('\'', '"'));
  }

  private RackFile.Slot slot(String json) throws JsonProcessingException {
    return new SlotParser(problems).parse("FILE, slot A1", "A1", node(json));
  }

  private AskSettings ask(String json) throws JsonProcessingException {
    return new AskKeys(problems).read("FILE", node(json));
  }

  @ParameterizedTest
  @CsvSource({"300, 300", "4000000, 4000000", "'''auto''', 0", "null, 0", "115200, 115200"})
  void aBaudRateIsAWholeNumberOrFoundByListening(String said, int baud) throws Exception {
    assertThat(slot("{'port':'/dev/a','baud':" + said + "}").settings().baud()).isEqualTo(baud);
    assertThat(problems.all()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"299", "4000001", "9600.5", "-9600", "'''9600'''", "true", "1e400"})
  void anyOtherIsToldWithTheRange(String said) throws Exception {
    slot("{'port':'/dev/a','baud':" + said + "}");
    assertThat(problems.all()).hasSize(1);
    assertThat(problems.all().get(0))
        .startsWith("FILE, slot A1: baud ")
        .endsWith(" is neither auto nor a whole number from 300 to 4000000, usually 115200");
  }

  @ParameterizedTest
  @CsvSource({"192.168.4.23", "255.255.255.255", "::1", "fe80::1:2", "::ffff:10.0.0.2"})
  void anAddressIsANumber(String address) throws Exception {
    RackFile.Slot slot = slot("{'address':'" + address + "'}");
    assertThat(slot.binding().isAddress()).isTrue();
    assertThat(problems.all()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"bench.local", "10.0.0", "10.0.0.2:9750", "localhost", "1000.0.0.1"})
  void aNameIsNoAddress(String address) throws Exception {
    slot("{'address':'" + address + "'}");
    assertThat(problems.all())
        .contains("FILE, slot A1: address " + address + " is no address like 192.168.4.23");
  }

  @Test
  void aStarMayStandInTheLastPartOfAPortOnly() throws Exception {
    slot("{'port':'/dev/tty*'}");
    slot("{'port':'/dev/*/tty*'}");
    assertThat(problems.all())
        .containsExactly("FILE, slot A1: port /dev/*/tty* may have a * in its last part only");
  }

  @Test
  void manySlotsMayNameOnePatternButOnePortBelongsToOne() throws Exception {
    slot("{'port':'/dev/tty*'}");
    slot("{'port':'/dev/tty*'}");
    assertThat(problems.all()).isEmpty();
    slot("{'port':'/dev/a','usb':'1-1'}");
    slot("{'port':'/dev/a'}");
    slot("{'port':'/dev/a','usb':'1-1'}");
    assertThat(problems.all())
        .containsExactly("FILE, slot A1: port /dev/a socket 1-1 is set for slot A1 already");
  }

  @Test
  void whatIsAskedIsKeptInItsOrder() throws Exception {
    AskSettings ask =
        ask("{'after_open':['a','b',5],'after_boot':['c'],'every_s':86400,'newline':'none'}");
    assertThat(ask.afterOpen()).containsExactly("a", "b", "5");
    assertThat(ask.afterBoot()).containsExactly("c");
    assertThat(ask.everyS()).isEqualTo(86_400);
    assertThat(ask.newline()).isEqualTo(Newline.NONE);
    assertThat(ask.bytes("a")).containsExactly('a');
    assertThat(ask("null")).isSameAs(AskSettings.NONE);
    assertThat(problems.all()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"lf, 10", "cr, 13"})
  void aTextEndsWithItsNewline(String newline, int end) throws Exception {
    AskSettings ask = ask("{'after_open':['a'],'newline':'" + newline + "'}");
    assertThat(ask.bytes("a")).containsExactly('a', end);
    assertThat(new AskSettings(ask.afterOpen(), ask.afterBoot(), 0, Newline.CRLF).bytes("a"))
        .containsExactly('a', 13, 10);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "{'every_s':5} | every_s repeats the texts of after_open; name at least one there",
        "{'after_open':['a'],'every_s':0} | every_s 0 is not a whole number of seconds from 1 to"
            + " 86400",
        "{'after_open':['a'],'every_s':86401} | every_s 86401 is not a whole number of seconds from"
            + " 1 to 86400",
        "{'after_open':'a'} | after_open must be a list of at most 16 texts like [start]",
        "{'after_boot':[null]} | after_boot can't send a text like that; at most 256 bytes",
        "{'newline':'LF'} | newline LF must be lf, crlf, cr or none"
      })
  void whatCannotBeAskedIsToldInASentence(String json, String problem) throws Exception {
    ask(json);
    assertThat(problems.all()).containsExactly("FILE, ask: " + problem);
  }

  /** The sign for pi has two bytes in UTF-8. */
  @Test
  void aTextsLengthIsCountedInBytes() throws Exception {
    ask("{'after_open':['" + "\u03c0".repeat(128) + "']}");
    assertThat(problems.all()).isEmpty();
    ask("{'after_open':['" + "\u03c0".repeat(129) + "']}");
    assertThat(problems.all())
        .containsExactly("FILE, ask: after_open can't send a text of 258 bytes; at most 256 bytes");
  }
}
