package soakbench.store.derived;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class JsonColumnTest {
  private final DirtySoaks notes = new DirtySoaks();
  private final JsonColumn<Dish> column = new JsonColumn<>(Dish.class, "dishes", notes);
  private final JsonColumn<List<Dish>> lists = JsonColumn.ofLists(Dish.class, "dishes", notes);

  record Dish(String name, double grams, Taste taste) {}

  enum Taste {
    SWEET,
    SALT
  }

  @Test
  void whatIsWrittenComesBackToTheLastBit() {
    Dish dish = new Dish("soup \"hot\"", 1.0 / 3, Taste.SALT);
    assertThat(column.read("S", JsonColumn.text(dish))).contains(dish);
    assertThat(lists.read("S", JsonColumn.text(List.of(dish, dish)))).contains(List.of(dish, dish));
    assertThat(notes.unreadable()).isEmpty();
  }

  @Test
  void whatAnotherReleaseWroteMoreIsPassedOver() {
    String more = "{\"name\":\"soup\",\"grams\":2,\"taste\":\"SWEET\",\"colour\":[1]}";
    assertThat(column.read("S", more)).contains(new Dish("soup", 2, Taste.SWEET));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "null",
        "[]",
        "{}",
        "{\"name\":\"soup\",\"grams\":2}",
        "{\"name\":\"soup\",\"grams\":null,\"taste\":\"SWEET\"}",
        "{\"name\":\"soup\",\"grams\":\"2\",\"taste\":\"SWEET\"}",
        "{\"name\":\"soup\",\"grams\":2,\"taste\":\"SOUR\"}",
        "{\"name\":\"soup\",\"grams\":2,\"taste\":0}",
        "{\"name\":"
      })
  void whatLacksSomethingOrSaysItOtherwiseIsAsGoodAsNoneAndNoted(String text) {
    assertThat(column.read("S", text)).isEmpty();
    assertThat(notes.unreadable()).containsExactly("S");
  }

  @ParameterizedTest
  @ValueSource(strings = {"[null]", "{}", "null", "[7]"})
  void aListWithAHoleIsAsGoodAsNone(String text) {
    assertThat(lists.read("S", text)).isEmpty();
    assertThat(notes.unreadable()).containsExactly("S");
  }
}
