export function studyJsonSchema(): unknown { return {}; }
