# Completion of sheaf for bash.

# Ids of a kind, with the library folders named so far.
_sheaf_ids() {
  local i libraries=()
  for ((i = 1; i < COMP_CWORD; i++)); do
    [[ ${COMP_WORDS[i]} == --library ]] && libraries+=(--library "${COMP_WORDS[i + 1]}")
  done
  "${COMP_WORDS[0]}" list "$1" "${libraries[@]}" 2>/dev/null | awk '{ print $2 }'
}

_sheaf() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command= n=0 i words
  local kinds="engine part relation practice strength lubricant threadlocker material consumable \
caution shop procedure packet build"
  for ((i = 1; i < COMP_CWORD; i++)); do
    case ${COMP_WORDS[i]} in
      -o | --output | --library | --readings | --since | --since-library | --paper | --sheets | --as | --findings) ((i++)) ;;
      -*) ;;
      *) [[ $command ]] && ((n++)) || command=${COMP_WORDS[i]} ;;
    esac
  done
  compopt -o filenames 2>/dev/null
  case $before in
    --paper) words="a4 letter" ;;
    --sheets) words="job safety setup bench torque values nonconformance start customer" ;;
    --as) words="pdf text pages" ;;
    --findings) words="text json" ;;
    --library | --since-library) COMPREPLY=($(compgen -d -- "$word")) && return ;;
    -o | --output | --readings | --since) COMPREPLY=($(compgen -f -- "$word")) && return ;;
    *)
      if [[ $word == -* ]]; then
        words="-o --output --library --readings --since --since-library --paper --duplex --sheets --as --order --findings --help --version"
      elif [[ ! $command ]]; then
        words="packet check show readings list start language"
      elif [[ $command == language ]]; then
        words="schema keys functions findings"
      elif [[ $command == list && $n == 0 ]]; then
        words=$kinds
      elif [[ $command == start && $n == 0 ]]; then
        words=$(_sheaf_ids build)
      else
        COMPREPLY=($(compgen -f -- "$word"))
        return
      fi
      ;;
  esac
  COMPREPLY=($(compgen -W "$words" -- "$word"))
}

complete -F _sheaf sheaf
