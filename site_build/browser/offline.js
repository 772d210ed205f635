export function lookAfterOfflineCopy() {}
