# Completion for bash. tests/cli/completions_test.cpp holds it to --help.
_sidelint() {
    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]} command= word words
    for word in "${COMP_WORDS[@]:1:COMP_CWORD-1}"; do
        case $word in check | fix | solve | verify | explain | init | schema) command=$word && break ;; esac
    done
    case $command:$previous in
    check:--effort | fix:--effort | solve:--effort) words="draft review press" ;;
    check:--detail) words="findings puzzles proofs" ;;
    check:--fail-on) words="error warning note never" ;;
    check:--colour | check:--color) words="auto always never" ;;
    check:--format) words="text brief json" ;;
    check:--commit) words="HEAD $(git for-each-ref --format='%(refname:short)' 2>/dev/null)" ;;
    check:--against) words="auto HEAD~1 $(git for-each-ref --format='%(refname:short)' 2>/dev/null)" ;;
    check:--config | fix:--config | solve:--certificate) COMPREPLY=() && return ;; # a file
    check:--jobs | check:--rule | fix:--jobs | fix:--rule | fix:--apply | solve:--goal | solve:--key | solve:--solution) words= ;;
    check:*)
        [[ $current == -* ]] || return # a path
        words="--help --staged --commit --against --format --detail --fail-on --effort --jobs --rule --config
            --colour --color --allow-empty --trust-repository --quiet"
        ;;
    fix:*)
        [[ $current == -* ]] || return # a path
        words="--help --preview --staged --apply --fail-if-changed --effort --jobs --rule --config --allow-empty
            --trust-repository --quiet"
        ;;
    solve:*) words="--help --goal --key --solution --effort --certificate" ;;
    verify:*)
        [[ $current == -* ]] || return # a file
        words="--help"
        ;;
    explain:*) words="--help --all" ;;
    init:*) words="--help" ;;
    schema:*) words="--help config report" ;;
    *) words="--help --version check fix solve verify explain init schema" ;;
    esac
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
}
complete -o default -F _sidelint sidelint
