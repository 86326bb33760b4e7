#include "solve/trial.hpp"

#include <algorithm>

namespace solve {
namespace {

constexpr int first_guess = 60;    // half width of the window about the score of the last depth
constexpr int widest_guess = 1000; // beyond it the window is left open

} // namespace

Trial::Trial(const board::Position& position, board::Color solver, std::vector<board::Hash> before)
    : m_position(position), m_solver(solver), m_before(std::move(before)),
      m_over(!position.has_legal_move() || position.is_dead()) {}

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
    int low = 0; // thresholds known to be reached, and known not to be
    int high = static_cast<int>(thresholds.size());
    int next = std::clamp(m_reached, 0, high - 1);
    int score = 0;
    while (low < high) {
        const auto bound = ask(search, m_depth + 1, thresholds[static_cast<std::size_t>(next)]);
        if (!bound) {
            return false;
        }
        score = *bound;
        const auto above = std::upper_bound(thresholds.begin(), thresholds.end(), score);
        const int count = static_cast<int>(above - thresholds.begin());
        if (score >= thresholds[static_cast<std::size_t>(next)]) {
            low = std::max(low, count);
            next = low;
        } else {
            high = std::min(high, count);
            next = high - 1;
        }
    }
    ++m_depth;
    m_steady = m_reached == low ? m_steady + 1 : 1;
    m_reached = low;
    m_score = score;
    m_is_bound = true;
    return true;
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
    m_is_bound = false;
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

int Trial::seen_from(int margin) const {
    int depth = static_cast<int>(m_scores.size());
    while (depth > 1 && std::abs(m_scores[static_cast<std::size_t>(depth) - 2] - m_scores.back()) <= margin) {
        --depth;
    }
    return depth;
}

} // namespace solve
