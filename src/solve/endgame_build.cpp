#include "solve/endgame_build.hpp"

#include "solve/endgame_first_look.hpp"
#include "solve/endgame_unmoves.hpp"

#include <algorithm>
#include <cstring>
#include <utility>

namespace solve::endgame {

namespace {

/// Calls `visit` with each index whose byte is `wanted`, in order; bytes may change meanwhile, but not to
/// `wanted`.
template <class Visit> void each(const std::vector<Code>& codes, Code wanted, Visit visit) {
    const Code* const begin = codes.data();
    const Code* const end = begin + codes.size();
    for (const Code* at = begin; at != end; ++at) {
        at = static_cast<const Code*>(std::memchr(at, wanted, static_cast<std::size_t>(end - at)));
        if (at == nullptr) {
            return;
        }
        visit(static_cast<Index>(at - begin));
    }
}

/// Plies count upwards: step n finds what is won or lost in exactly n. A position is won as soon as a move
/// into a lost one is found, and lost when the last of its moves is found to lead into a won one: each
/// position counts the moves still open, and each move into a won position is taken off exactly once.
class Builder {
  public:
    Builder(const Material& material, const Source& source)
        : m_layout(material), m_examiner(material, source), m_codes(m_layout.size()),
          m_events(m_layout.size()), m_open(m_layout.size()) {}

    [[nodiscard]] Table run() {
        look_at_all();
        for (int plies = 1; plies <= m_latest + 1; ++plies) {
            plies % 2 == 1 ? find_wins(plies) : find_losses(plies);
        }
        return {m_layout, std::move(m_codes)};
    }

  private:
    /// A double step that loses in `event` when it is taken in passing.
    struct Passing {
        Index before;
        Index after;
        Code event;
    };

    void look_at_all() {
        for (Index index = 0; index < m_layout.size(); ++index) {
            const Placement placement = m_layout.entry(index).placement;
            const FirstLook look = m_examiner.look(placement);
            m_codes[index] = look.code;
            m_events[index] = look.event;
            m_open[index] = look.open;
            expect(look.event);
            if (look.double_step != 0) {
                look_at_double_step(placement, index, look.double_step);
            }
        }
    }

    void look_at_double_step(Placement placement, Index before, std::size_t number) {
        placement.at[number] = after_double_step(placement.turn, placement.at[number]);
        placement.turn = !placement.turn;
        const std::optional<Code> event = m_examiner.taken_in_passing(placement, number);
        if (event && *event != drawn) {
            m_passing.push_back({before, m_layout.at(placement), *event});
            expect(*event);
        }
    }

    void expect(Code event) { m_latest = std::max(m_latest, plies_of(event)); }

    void decide(Index index, Code code) {
        m_codes[index] = code;
        expect(code);
    }

    void find_wins(int plies) {
        const Code code = code_of(plies);
        const auto won = [&](Index before) {
            if (m_codes[before] == drawn) {
                decide(before, code);
            }
        };
        each(m_events, code, won);
        each(m_codes, code_of(plies - 1), [&](Index lost) {
            each_unmove(m_layout, m_examiner, lost, [&](Index before, std::optional<Code> taken_in_passing) {
                if (!taken_in_passing) { // else the opponent takes, and does not lose
                    won(before);
                }
            });
        });
    }

    void find_losses(int plies) {
        const Code code = code_of(plies);
        const auto take_off = [&](Index before) {
            if (m_codes[before] == drawn && m_open[before] != FirstLook::never && --m_open[before] == 0) {
                decide(before, code);
            }
        };
        each(m_events, code, take_off);
        for (const Passing& passing : m_passing) {
            const Code after = m_codes[passing.after];
            if (passing.event == code && !(wins(after) && after < code_of(plies - 1))) {
                take_off(passing.before);
            }
        }
        each(m_codes, code_of(plies - 1), [&](Index won) {
            each_unmove(m_layout, m_examiner, won, [&](Index before, std::optional<Code> taken_in_passing) {
                const bool taken_off = taken_in_passing.value_or(drawn) != drawn && *taken_in_passing <= code;
                if (!taken_off) {
                    take_off(before);
                }
            });
        });
    }

    Layout m_layout;
    Examiner m_examiner;
    std::vector<Code> m_codes;
    std::vector<Code> m_events;
    std::vector<std::uint8_t> m_open;
    std::vector<Passing> m_passing;
    int m_latest = 0;
};

} // namespace

Table build(const Material& material, const Source& source) {
    return Builder(material, source).run();
}

} // namespace solve::endgame
