#include "solve/trial.hpp"

#include "solve/tools.hpp"

#include <algorithm>

namespace solve {
namespace {

constexpr int first_guess = 60;    // half width of the window about the score of the last depth
constexpr int widest_guess = 1000; // beyond it the window is left open

int count_reached(std::span<const int> thresholds, int score) {
    return static_cast<int>(std::upper_bound(thresholds.begin(), thresholds.end(), score) -
                            thresholds.begin());
}

} // namespace

Trial::Trial(const board::Position& position, board::Color solver, std::vector<board::Hash> before,
             const Endgames& endgames)
    : m_position(position), m_solver(solver), m_before(std::move(before)),
      m_exact(exact_score(endgames, position, solver)) {}

/// A bound on the solver's score: at least `threshold`, or below it.
std::optional<int> Trial::ask(Search& search, int depth, int threshold) {
    const bool own = m_position.turn() == m_solver;
    const Window window = own ? Window::at_least(threshold) : Window::at_least(1 - threshold);
    const auto found = search.run(m_position, m_before, depth, window);
    if (!found) {
        return std::nullopt;
    }
    return own ? found->score : -found->score;
}

bool Trial::deepen(Search& search, std::span<const int> thresholds) {
    int low = -infinite;
    int high = infinite;
    int next = std::clamp(m_reached, 0, static_cast<int>(thresholds.size()) - 1);
    while (count_reached(thresholds, low) != count_reached(thresholds, high)) {
        const int threshold = thresholds[static_cast<std::size_t>(next)];
        const auto bound = ask(search, m_depth + 1, threshold);
        if (!bound) {
            return false;
        }
        // Two searches may contradict each other, for they cut differently: what was reached stays reached.
        if (*bound >= threshold) {
            low = *bound;
            high = std::max(high, low);
            next = count_reached(thresholds, low);
        } else {
            high = std::max(*bound, low);
            next = count_reached(thresholds, high) - 1;
        }
    }
    ++m_depth;
    const int reached = count_reached(thresholds, low);
    m_steady = m_reached == reached ? m_steady + 1 : 1;
    m_reached = reached;
    m_highs.push_back(high);
    m_low = low;
    m_high = high;
    m_score = reached == 0 ? high : low;
    m_score_is = reached == 0 ? ValueIs::at_most : ValueIs::at_least;
    return true;
}

void Trial::measure(std::span<const int> thresholds) {
    if (m_reached < 0) {
        return;
    }
    m_reached = count_reached(thresholds, m_low);
    if (m_reached != count_reached(thresholds, m_high)) {
        m_steady = 0;
    }
}

bool Trial::below_lately(int threshold) const {
    return m_highs.size() >= 3 &&
           std::all_of(m_highs.end() - 3, m_highs.end(), [&](int high) { return high < threshold; });
}

bool Trial::deepen_exactly(Search& search) {
    const bool own = m_position.turn() == m_solver;
    const int guess = own ? m_score : -m_score;
    const bool guessed = !m_scores.empty() && !is_mate(m_score);
    int below = first_guess;
    int above = first_guess;
    while (true) {
        const bool narrow = guessed && below < widest_guess && above < widest_guess;
        const Window window = narrow ? Window{guess - below, guess + above} : Window{};
        const auto found = search.run(m_position, m_before, m_depth + 1, window);
        if (!found) {
            return false;
        }
        if (found->score <= window.alpha) {
            below *= 5;
        } else if (found->score >= window.beta) {
            above *= 5;
        } else {
            m_score = own ? found->score : -found->score;
            m_line = found->line;
            break;
        }
    }
    ++m_depth;
    m_score_is = ValueIs::exact;
    m_scores.push_back(m_score);
    return true;
}

int Trial::swing() const {
    if (m_scores.size() < 3) {
        return 2 * mate_score;
    }
    const auto [least, most] = std::minmax_element(m_scores.end() - 3, m_scores.end());
    return *most - *least;
}

int Trial::lowest_lately() const {
    return m_scores.size() < 3 ? -infinite : *std::min_element(m_scores.end() - 3, m_scores.end());
}

int Trial::highest_lately() const {
    return m_scores.size() < 3 ? infinite : *std::max_element(m_scores.end() - 3, m_scores.end());
}

bool Trial::ended() const {
    return m_depth >= deepest_question || (is_mate(m_score) && m_score_is == ValueIs::exact && swing() == 0);
}

int Trial::seen_from(int margin) const {
    int depth = static_cast<int>(m_scores.size());
    while (depth > 1 && std::abs(m_scores[static_cast<std::size_t>(depth) - 2] - m_scores.back()) <= margin) {
        --depth;
    }
    return depth;
}

} // namespace solve
